import { isCover, isCovered } from '../../../shared-core/drawing/drawing.ts'
import type { Student } from '../../../shared-core/model/entities.ts'
import type { ClipSource } from './clip-source.ts'

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
    const asked = isAsked ? `${student.name}’s consent asks for the face to be covered. ` : ''
    const counted =
      frames === 0
        ? 'No frames are handed over yet.'
        : uncovered === 0
          ? `Each of the ${frames} frames handed over has a cover. Play the clips once to see that it hides the face throughout.`
          : [
              `${uncovered} of the ${frames} frames handed over have no cover`,
              person > 0 ? `; on ${person} of them a person was found` : '',
              empty > 0 ? `; on ${empty} nobody was found` : '',
              isAllRead ? '.' : '; whether a face is seen on them, only you can tell.',
            ].join('')
    const talks = talkThroughs
      ? ' Talk-throughs keep the covers that were there when they were recorded.'
      : ''
    const lacking =
      isAsked && uncovered > empty
        ? `the consent of ${student.name} asks for the face to be covered, and ${uncovered - empty} of ${frames} frames have no cover`
        : null
    return { frames, uncovered, empty, isAsked, sentence: `${asked}${counted}${talks}`, lacking }
  }
}
