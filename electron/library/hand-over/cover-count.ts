import { isCover, isCovered } from '../../../shared-core/drawing/drawing.ts'
import type { Student } from '../../../shared-core/model/entities.ts'
import type { ClipSource } from './clip-source.ts'
import { phrase, said, sayWord, semicolons, sentences } from '../../../shared-core/wording/phrase.ts'

/** What is said of covers before a package is written. */
export interface CoverReport {
  /** Frames of clips and stills that go into the package, each counted once. */
  frames: number
  /** Of these, frames on which nothing is covered. */
  uncovered: number
  /** Of the uncovered, frames on which the body's points show that nobody is there. */
  empty: number
  /** The consent asks for covers. */
  isAsked: boolean
  sentence: string
  /** Why the package may not be written without an explicit yes; null if covers are no reason. */
  lacking: string | null
}

/** Counts the frames that a package hands over, and those of them that show everything. */
export class CoverCount {
  readonly #covered = new Map<string, 'covered' | 'empty' | 'person' | 'unread'>()
  #hasCovers = false

  /** Frames of a source that are handed over, ends included. */
  add(
    source: Pick<ClipSource, 'file' | 'drawings' | 'personOn'>,
    fromFrame: number,
    toFrame = fromFrame,
  ): void {
    this.#hasCovers ||= source.drawings.some((drawing) => isCover(drawing.shape))
    for (let frame = fromFrame; frame <= toFrame; frame++) {
      const key = `${frame} ${source.file}`
      // A frame that goes out twice, once without a cover, goes out without one.
      const known = this.#covered.get(key) ?? 'covered'
      if (known === 'covered' && !isCovered(source.drawings, frame)) {
        const hasPerson = source.personOn(frame)
        this.#covered.set(key, hasPerson === null ? 'unread' : hasPerson ? 'person' : 'empty')
      } else this.#covered.set(key, known)
    }
  }

  /** Null where covers are neither used nor asked for. */
  report(student: Pick<Student, 'name' | 'consent'>, talkThroughs: number): CoverReport | null {
    const isAsked = student.consent.coversFace
    if (!this.#hasCovers && !isAsked) return null
    const frames = this.#covered.size
    const states = [...this.#covered.values()]
    const count = (state: (typeof states)[number]) => states.filter((s) => s === state).length
    const [person, empty] = [count('person'), count('empty')]
    const uncovered = frames - count('covered')
    const isAllRead = person + empty === uncovered
    const counted =
      frames === 0
        ? phrase('covers.noFrames')
        : uncovered === 0
          ? phrase('covers.all', { frames })
          : phrase('text.stop', {
              text: semicolons(
                phrase('covers.without', { uncovered, frames }),
                person > 0 ? phrase('covers.person', { n: person }) : null,
                empty > 0 ? phrase('covers.nobody', { n: empty }) : null,
                isAllRead ? null : phrase('covers.unread'),
              ),
            })
    const sentence = sayWord(
      sentences(
        isAsked ? phrase('covers.asked', { student: student.name }) : null,
        counted,
        talkThroughs ? phrase('covers.talks') : null,
      ),
    )
    const lacking =
      isAsked && uncovered > empty
        ? said('covers.lacking', { student: student.name, n: uncovered - empty, frames })
        : null
    return { frames, uncovered, empty, isAsked, sentence, lacking }
  }
}
