import { Command } from 'commander'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import type { LiveState } from '../../../shared-core/model/live.ts'
import { standsAlone } from '../../../shared-core/model/still.ts'
import { metricText, type UnitSystem } from '../../../shared-core/units.ts'
import type { Output } from '../output.ts'
import { makeOutput } from '../output.ts'
import { findLesson, withLibrary } from '../with-library.ts'
import { liveTexts } from '../../../shared-core/wording/command-line/live.ts'

interface Options {
  json?: boolean
  library?: string
  clips: string
  shots?: string
  all?: boolean
}

/** Says what is new in a lesson, once each: clips, shots, pairs. */
class News {
  readonly #said = new Map<string, string>()
  readonly #output: Output
  constructor(output: Output) {
    this.#output = output
  }

  tell(opened: OpenLesson) {
    const shots = new Map(opened.shots.map((shot) => [shot.id, shot]))
    const clips = new Map(opened.clips.map((clip) => [clip.id, clip]))
    for (const swing of opened.swings) {
      const clip =
        swing.views.map((v) => clips.get(v.clipId)?.fileName).find((name) => name !== undefined) ?? null
      const shot = swing.shotId === null ? null : (shots.get(swing.shotId) ?? null)
      const state = JSON.stringify([clip, shot?.id ?? null])
      if (this.#said.get(swing.id) === state) continue
      this.#said.set(swing.id, state)
      const impact = swing.views[0]?.moments.find((m) => m.name === 'impact') ?? null
      const what = standsAlone(opened, swing)
        ? 'picture'
        : clip === null
          ? 'shot'
          : shot === null
            ? 'clip'
            : 'pair'
      if (this.#output.isJson) {
        const { clubSpeedMps = null, ballSpeedMps = null, carryM = null, club = null, at = null } = shot ?? {}
        const line = {
          ...{ event: what, swing: swing.order, clip, impactFrame: impact?.frame ?? null },
          ...{ shotId: shot?.id ?? null, at, club, clubSpeedMps, ballSpeedMps, carryM },
          ...{ pairHow: swing.pairHow, pairConfidence: swing.pairConfidence },
        }
        process.stdout.write(`${JSON.stringify(line)}\n`)
        continue
      }
      const units: UnitSystem = opened.student.units
      const numbers = shot
        ? (['clubSpeedMps', 'ballSpeedMps', 'carryM'] as const)
            .filter((name) => shot[name] !== null)
            .map((name) => metricText(name, shot[name]!, units))
            .join(', ')
        : ''
      const words = {
        picture: 'picture',
        shot: liveTexts('swingOrderShotNo', { order: swing.order }),
        clip: liveTexts('swingOrderClipNo', { order: swing.order }),
        pair: liveTexts('swingOrderClipAnd', { order: swing.order }),
      }[what]
      this.#output.say(
        [words, clip, numbers, impact ? liveTexts('impactAt', { frame: impact.frame }) : '']
          .filter(Boolean)
          .join('; '),
      )
    }
  }
}

/** `leadside live`: a lesson takes in what arrives, without the window, until it is stopped. */
export const liveCommand = (): Command =>
  new Command('live')
    .description(liveTexts('takeClipsAndShots'))
    .argument('<lesson>', liveTexts('idStartIdOr'))
    .requiredOption('--clips <dir>', liveTexts('folderClipsArriveIn'))
    .option('--shots <file>', liveTexts('fileDeviceWritesShots'))
    .option('--all', liveTexts('alsoClipsInFolder'))
    .action(async (text: string, options: Options) => {
      const output = makeOutput(Boolean(options.json))
      const news = new News(output)
      let lessonId: string | null = null
      let tell = () => {}
      let troubles = new Set<string>()
      await withLibrary(
        options.library,
        output,
        async (library) => {
          lessonId = await findLesson(library, text)
          let telling: Promise<void> | null = null
          let again = false
          tell = () => {
            if (telling) {
              again = true
              return
            }
            telling = library
              .ask('lesson.open', { lessonId: lessonId! })
              .then((opened) => news.tell(opened))
              .catch(() => {})
              .finally(() => {
                telling = null
                if (again) {
                  again = false
                  tell()
                }
              })
          }
          await library.ask('live.start', {
            lessonId,
            clipsFolder: options.clips,
            shotsPath: options.shots ?? null,
            takeOld: Boolean(options.all),
          })
          tell()
          output.say(liveTexts('liveCtrlCStops'))
          // Runs until it is stopped from outside.
          await new Promise<never>(() => setInterval(() => {}, 60_000))
        },
        {
          onEvent: (name, body) => {
            if (name === 'lesson.changed' && (body as { lessonId: string }).lessonId === lessonId) tell()
            if (name === 'live.changed') {
              const { clipsProblem, shotsProblem, waiting } = body as LiveState
              const now = [
                clipsProblem,
                shotsProblem,
                // What is only growing is no news.
                ...waiting.flatMap((w) => (w.isArriving ? [] : [`${w.name} ${w.why}`])),
              ].filter((text) => text !== null)
              for (const text of now) {
                if (!troubles.has(text)) process.stderr.write(liveTexts('waitingForIt', { text }))
              }
              troubles = new Set(now)
            }
          },
        },
      )
    })
