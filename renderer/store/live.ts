import { create } from 'zustand'
import type { OpenLesson, Swing } from '../../shared-core/model/entities.ts'
import type { LiveState } from '../../shared-core/model/live.ts'
import { useApp } from './app-store.ts'
import { ask, bridge } from './bridge.ts'
import { activateSwing, swingsInOrder, useDesk } from './desk-store.ts'
import { telling } from './messages.ts'

/** What the open lesson watches; null if it never did. */
export const useLive = create<{ state: LiveState | null }>(() => ({ state: null }))

const take = (lessonId: string, state: LiveState | null) => {
  if (useDesk.getState().lessonId === lessonId) useLive.setState({ state })
}

/** Reads it anew. */
export const readLive = async (lessonId: string) => {
  const answer = await telling(ask('live.state', { lessonId }))
  if (answer) take(lessonId, answer.state)
}

export const startLive = async (
  lessonId: string,
  places: { clipsFolder: string; shotsPath: string | null; takeOld: boolean },
) => {
  const done = await telling(ask('live.start', { lessonId, ...places }))
  await readLive(lessonId)
  return done !== null
}

export const stopLive = async (lessonId: string) => {
  await telling(ask('live.stop', { lessonId }))
  await readLive(lessonId)
}

/** The last swing of the lesson; with a picture, if that is asked for. */
export const newestSwing = (opened: OpenLesson | null, isFilmed = false): Swing | null =>
  (opened && swingsInOrder(opened).findLast((s) => !isFilmed || s.views.length > 0)) ?? null

/** While the newest swing stands on the Stage and nothing is in hand, the next one takes its place. */
const showNewest = () =>
  useDesk.subscribe(({ opened, activeSwingId, tool, compared, isPlaying }, { opened: before }) => {
    if (opened === before || !opened || !before || opened.lesson.id !== before.lesson.id) return
    if (!useLive.getState().state?.isOn || tool.name !== 'look' || compared || isPlaying) return
    if (useApp.getState().dialog) return
    const newest = newestSwing(opened, true)
    const wasNewest = newestSwing(before, true)
    if (!newest || newest.id === activeSwingId || newest.id === wasNewest?.id) return
    if (wasNewest && wasNewest.id !== activeSwingId && activeSwingId !== newestSwing(before)?.id) return
    activateSwing(newest.id)
  })

/** Follows what a lesson watches for as long as it is open. */
export const followLive = (lessonId: string): (() => void) => {
  useLive.setState({ state: null })
  void readLive(lessonId)
  const offEvent = bridge().on('live.changed', (state) => {
    if (state.lessonId === lessonId) take(lessonId, state)
  })
  const offNewest = showNewest()
  return () => {
    offEvent()
    offNewest()
    useLive.setState({ state: null })
  }
}
