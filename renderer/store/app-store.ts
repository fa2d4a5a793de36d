import { create } from 'zustand'
import type { Job } from '../../shared-core/model/entities.ts'
import { defaultSettings, type RosterEntry, type Settings } from '../../shared-core/model/hand-over.ts'
import { Problem } from '../../shared-core/problem.ts'
import { setDrawnInSoftware } from '../stage-engine/canvas-context.ts'
import { setFrameMemory } from '../stage-engine/memory-budget.ts'
import { ask, bridge } from './bridge.ts'
import { sayNews, sayProblem, telling } from './messages.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

export type Screen =
  | { name: 'roster' }
  | { name: 'desk'; lessonId: string }
  | { name: 'bay'; lessonId: string }
  | { name: 'hand-over'; lessonId: string }
  | { name: 'season'; studentId: string }
  | { name: 'works' }

/** The dialogs any part of the window may open. */
export type OpenDialog =
  | { name: 'keys' }
  | { name: 'settings' }
  | { name: 'keeping' }
  | { name: 'restore'; file: string }
  | { name: 'give-lessons'; studentId: string; lessonId: string | null; label: string }
  | { name: 'take-lessons'; file: string }
  | { name: 'student'; studentId: string | null }
  | { name: 'lesson'; studentId: string }
  | { name: 'delete-student'; studentId: string }
  | { name: 'delete-lesson'; lessonId: string; label: string }
  | { name: 'add-shots'; lessonId: string; file: string; rest: readonly string[] }
  | { name: 'write-hand-over'; lessonId: string }
  | { name: 'cue'; momentId: string | null; x: number | null; y: number | null }
  | { name: 'compare' }
  | { name: 'live'; lessonId: string }
  | { name: 'begin-block'; lessonId: string }
  | { name: 'swishes'; viewId: string | null }
  | { name: 'scale'; viewId: string; lengthPx: number }

interface AppState {
  screen: Screen
  roster: RosterEntry[] | null
  settings: Settings
  /** What the setting comes to now: with "system" it follows the machine. */
  shownTheme: 'light' | 'dark'
  jobs: Job[]
  info: { folder: string; isEmpty: boolean; demoOffered: boolean } | null
  dialog: OpenDialog | null
}

export const useApp = create<AppState>(() => ({
  screen: { name: 'roster' },
  roster: null,
  settings: defaultSettings,
  shownTheme: 'light',
  jobs: [],
  info: null,
  dialog: null,
}))

export const openDialog = (dialog: OpenDialog) => useApp.setState({ dialog })
export const closeDialog = () => useApp.setState({ dialog: null })

/** The screen is in the address, so that a window can be opened on a lesson and reloads where it was. */
export const screenOfHash = (hash: string): Screen => {
  if (hash === '#/works') return { name: 'works' }
  const [, part, id] = /^#\/(lesson|bay|hand-over|season)\/([^/]+)$/.exec(hash) ?? []
  const known = id === undefined ? '' : decodeURIComponent(id)
  if (part === 'lesson') return { name: 'desk', lessonId: known }
  if (part === 'bay') return { name: 'bay', lessonId: known }
  if (part === 'hand-over') return { name: 'hand-over', lessonId: known }
  if (part === 'season') return { name: 'season', studentId: known }
  return { name: 'roster' }
}

const hashOfScreen = (screen: Screen): string => {
  if (screen.name === 'roster') return '#/'
  if (screen.name === 'works') return '#/works'
  if (screen.name === 'season') return `#/season/${encodeURIComponent(screen.studentId)}`
  return `#/${screen.name === 'desk' ? 'lesson' : screen.name}/${encodeURIComponent(screen.lessonId)}`
}

export const goTo = (screen: Screen) => {
  location.hash = hashOfScreen(screen)
}

export const loadRoster = () =>
  telling(async () => {
    const [roster, info] = await Promise.all([ask('roster.list', {}), ask('library.info', {})])
    useApp.setState({ roster, info })
  })

export const saveSettings = (patch: Partial<Settings>) => {
  const settings = { ...useApp.getState().settings, ...patch }
  takeSettings(settings)
  return telling(ask('settings.set', patch))
}

const takeSettings = (settings: Settings) => {
  useApp.setState({ settings })
  setFrameMemory(settings.frameMemoryMb)
  applyTheme(settings.theme)
}

const dark = () => matchMedia('(prefers-color-scheme: dark)')
export const applyTheme = (theme: Settings['theme']) => {
  const name = theme === 'system' ? (dark().matches ? 'dark' : 'light') : theme
  document.documentElement.dataset['theme'] = name
  if (useApp.getState().shownTheme !== name) useApp.setState({ shownTheme: name })
}

const takeJob = (job: Job) =>
  useApp.setState(({ jobs }) => {
    const known = jobs.some((j) => j.id === job.id)
    return { jobs: known ? jobs.map((j) => (j.id === job.id ? job : j)) : [...jobs, job] }
  })

let isLooking = false
/** A lesson file that was opened outside is shown as soon as the Roster is read and nothing else is asked. */
const showGivenFile = async () => {
  const isFree = () => useApp.getState().roster !== null && useApp.getState().dialog === null
  if (isLooking || !isFree()) return
  isLooking = true
  const file = await bridge()
    .nextGivenFile()
    .finally(() => (isLooking = false))
  if (file !== null) openDialog({ name: 'take-lessons', file })
}

/** Everything the window does once, at its start. */
export const startApp = () => {
  const readHash = () => useApp.setState({ screen: screenOfHash(location.hash) })
  readHash()
  setDrawnInSoftware(bridge().isDrawnInSoftware)
  addEventListener('hashchange', readHash)
  applyTheme('system')
  dark().addEventListener('change', () => applyTheme(useApp.getState().settings.theme))
  bridge().on('settings.changed', takeSettings)
  bridge().onFileGiven(() => void showGivenFile())
  useApp.subscribe((now, before) => {
    const hasTime = (before.dialog !== null && now.dialog === null) || (before.roster === null && now.roster)
    if (hasTime) void showGivenFile()
  })
  bridge().on('roster.changed', () => void loadRoster())
  bridge().on('job.changed', (job) => {
    const before = useApp.getState().jobs.find((j) => j.id === job.id)
    takeJob(job)
    if (job.state === 'done' && before?.state !== 'done') jobDone(job)
    if (job.state === 'failed' && before?.state !== 'failed') jobFailed(job)
  })
  void telling(async () => takeSettings(await ask('settings.get', {})))
  void telling(async () => useApp.setState({ jobs: await ask('jobs.list', {}) }))
  void loadRoster()
}

const jobDone = (job: Job) => {
  if (job.kind === 'demo') void openNewLesson()
  const { result } = job
  if (job.kind === 'give-lesson' && result) {
    sayNews(newsWords('lessonFileWritten'), {
      label: newsWords('showInFolder'),
      run: () => void bridge().showInFolder(result),
    })
  }
  if (job.kind === 'take-lesson' && result) sayNews(newsWords('fromColleague', { result }))
  // What is missing or damaged in a clip is said, not only kept in the list of jobs.
  if (job.outcome === 'result.addedBut' && result) {
    sayNews(newsWords('wasResult', { label: job.label, result }))
  }
  if (job.kind === 'hand-over' && result) {
    sayNews(newsWords('handOverWritten'), {
      label: newsWords('showFolder'),
      run: () => void bridge().showInFolder(result),
    })
  }
}

/** Jobs that have no place of their own to say it. */
const jobFailed = ({ kind, problem }: Job) => {
  if ((kind !== 'give-lesson' && kind !== 'take-lesson') || !problem) return
  sayProblem(Problem.from(problem))
}

/** After the demo lesson is loaded: opens it, unless the coach has gone elsewhere meanwhile. */
const openNewLesson = async () => {
  const idsNow = () => useApp.getState().roster?.flatMap((r) => r.lessons.map((l) => l.id)) ?? []
  await loadRoster()
  const newest = idsNow().find((id) => !lessonsBeforeDemo.has(id))
  if (newest && useApp.getState().screen.name === 'roster') goTo({ name: 'desk', lessonId: newest })
}
let lessonsBeforeDemo: ReadonlySet<string> = new Set()

export const loadDemo = () => {
  lessonsBeforeDemo = new Set(useApp.getState().roster?.flatMap((r) => r.lessons.map((l) => l.id)))
  return telling(ask('demo.load', {}))
}
