import { useEffect, useRef, useState } from 'react'
import { realSecondsBetween } from '../../shared-core/timing/clip-clock.ts'
import { timesOf } from '../desk/stage/use-player.ts'
import { Problem } from '../../shared-core/problem.ts'
import {
  findSwishes,
  loudestWhere,
  stickSpeedError,
  stickSpeedMps,
} from '../../shared-core/swish/find-swishes.ts'
import { metricText, type UnitSystem } from '../../shared-core/units.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { closeDialog } from '../store/app-store.ts'
import { ask } from '../store/bridge.ts'
import { useDesk } from '../store/desk-store.ts'
import { openMicrophone, type Microphone } from '../talk/microphone.ts'
import { LiveSwishes } from './live-swishes.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'
import './live.css'

/** One row of the meter. */
interface Heard {
  id: string
  levelDb: number
  pitchHz: number
  /** Where in the swing, null where nothing says where the bottom was. */
  where: string | null
}

const placeText = (swishSeconds: number, bottomSeconds: number): string => {
  const { where, bySeconds } = loudestWhere(swishSeconds, bottomSeconds)
  if (where === 'at') return liveWords('atBottom')
  return liveWords(where === 'before' ? 'beforeBottom' : 'afterBottom', {
    ms: Math.round(1000 * Math.abs(bySeconds)),
  })
}

/** How loud and how high swishes are, and where in the swing: in the clip on the Stage, or from the microphone. */
export function SwishMeter({ viewId }: { viewId: string | null }) {
  const opened = useDesk((s) => s.opened)
  const swing = opened?.swings.find((s) => s.views.some((v) => v.id === viewId))
  const shown = swing?.views.find((v) => v.id === viewId)
  const clip = opened?.clips.find((c) => c.id === shown?.clipId && c.stillKind === null)
  const impact = shown?.moments.find((m) => m.name === 'impact') ?? null
  const units: UnitSystem = opened?.student.units ?? 'mph-yd'
  const [diameter, setDiameter] = useState('')
  const [inClip, setInClip] = useState<{ rows: Heard[]; words: string | null } | null>(null)
  const [live, setLive] = useState<Heard[]>([])
  const [microphone, setMicrophone] = useState<'off' | 'opening' | 'on'>('off')
  const [problem, setProblem] = useState<string | null>(null)
  const open = useRef<Microphone | null>(null)
  const isHere = useRef(true)

  const impactFrame = impact?.frame ?? null
  useEffect(() => {
    let isWanted = true
    if (viewId === null || !clip) return
    const listen = async () => {
      try {
        const { hasSound, swishes } = await ask('view.swishes', { id: viewId })
        const { atSeconds } = await ask('clip.timestamps', { id: clip.id })
        if (!isWanted) return
        const timing = timesOf(clip, atSeconds)
        const bottom = impactFrame === null ? null : realSecondsBetween(timing, 0, impactFrame)
        setInClip({
          rows: swishes.map((s, i) => ({
            id: `clip ${i}`,
            levelDb: s.levelDb,
            pitchHz: s.pitchHz,
            where: bottom === null ? null : placeText(s.realSeconds, bottom),
          })),
          words: hasSound ? (swishes.length === 0 ? liveWords('noSwish') : null) : liveWords('noSound'),
        })
      } catch (error) {
        if (isWanted) setInClip({ rows: [], words: (error as Error).message })
      }
    }
    void listen()
    return () => {
      isWanted = false
    }
  }, [viewId, clip, impactFrame])

  const release = () => {
    open.current?.release()
    open.current = null
    setMicrophone('off')
  }
  // The microphone is open only while the meter is.
  useEffect(() => {
    isHere.current = true
    return () => {
      isHere.current = false
      open.current?.release()
      open.current = null
    }
  }, [])

  const listenLive = async () => {
    setMicrophone('opening')
    setProblem(null)
    let ear: LiveSwishes | null = null
    try {
      const opened = await openMicrophone(
        ({ sound }) => {
          for (const s of ear?.hear(sound) ?? []) {
            const heard = {
              id: `live ${s.atSeconds.toFixed(2)}`,
              levelDb: s.levelDb,
              pitchHz: s.pitchHz,
              where: null,
            }
            setLive((all) => [heard, ...all].slice(0, 12))
          }
        },
        () => {
          release()
          setProblem(liveWords('microphoneGone'))
        },
      )
      if (!isHere.current) return opened.release()
      ear = new LiveSwishes(opened.context.sampleRate, findSwishes)
      open.current = opened
      setMicrophone('on')
    } catch (error) {
      setMicrophone('off')
      const { what, toDo } = error instanceof Problem ? error : { what: (error as Error).message, toDo: null }
      setProblem([what, toDo].filter(Boolean).join('. '))
    }
  }

  const diameterM = Number(diameter.replace(',', '.')) / 1000
  const knowsStick = diameterM >= 0.003 && diameterM <= 0.03
  const speedOf = (pitchHz: number) =>
    knowsStick
      ? `≈ ${metricText('clubSpeedMps', stickSpeedMps({ pitchHz }, diameterM), units)} ± ${Math.round(100 * stickSpeedError)} %`
      : '–'
  const table = (rows: Heard[], caption: string) => (
    <table className="columns-table swish-table">
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th>{liveWords('loudness')}</th>
          <th>{liveWords('pitch')}</th>
          <th>{liveWords('loudest')}</th>
          <th>{liveWords('stickSpeed')}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <td>{liveWords('decibels', { levelDb: Math.round(row.levelDb) })}</td>
            <td>{liveWords('hertz', { pitchHz: Math.round(row.pitchHz) })}</td>
            <td>{row.where ?? '–'}</td>
            <td>{speedOf(row.pitchHz)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
  return (
    <Window
      wide
      title={liveWords('swishMeter')}
      onClose={closeDialog}
      foot={<Action tone="lead" label={commonWords('close')} onPress={closeDialog} />}
    >
      <div className="note-box note-box-ask">{liveWords('caution')}</div>
      <div className="field">
        <label htmlFor="stick-diameter">{liveWords('stickDiameter')}</label>
        <input
          id="stick-diameter"
          className="input swish-diameter"
          inputMode="decimal"
          value={diameter}
          onChange={(event) => setDiameter(event.target.value)}
        />
      </div>
      <p className="soft">{liveWords('stickSpeedHint')}</p>
      {viewId !== null && clip && (
        <section>
          {inClip === null && <p className="soft">{liveWords('listeningTo', { fileName: clip.fileName })}</p>}
          {inClip?.words && <p>{inClip.words}</p>}
          {inClip &&
            inClip.rows.length > 0 &&
            table(inClip.rows, liveWords('inClip', { fileName: clip.fileName }))}
          {inClip && inClip.rows.length > 0 && impact === null && (
            <p className="soft">{liveWords('markImpact')}</p>
          )}
        </section>
      )}
      <section>
        <div className="swish-live">
          {/* Never disabled: it would lose the focus, and with it the way out by Escape. */}
          <Action
            label={microphone === 'on' ? liveWords('stopListening') : liveWords('listen')}
            onPress={() => {
              if (microphone === 'on') release()
              else if (microphone === 'off') void listenLive()
            }}
          />
          <span className="soft" role="status">
            {microphone === 'on' ? liveWords('listening') : (problem ?? '')}
          </span>
        </div>
        {live.length > 0 && table(live, liveWords('byMicrophone'))}
        {live.length > 0 && <p className="soft">{liveWords('noBottomKnown')}</p>}
      </section>
    </Window>
  )
}
