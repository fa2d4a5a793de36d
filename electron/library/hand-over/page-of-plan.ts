import fs from 'node:fs'
import type { PageContent } from '../../../shared-core/hand-over/page.ts'
import type { HandOverPlan } from './plan.ts'
import type { PlannedStill, Still } from './stills.ts'

const dataUriOf = (file: string, type: string): string =>
  `data:${type};base64,${fs.readFileSync(file).toString('base64')}`

/**
 * What stands on the page of a plan, its pictures made.
 * @param isWritten the clips lie beside the page; else their posters stand for them
 */
export const pageOfPlan = (
  plan: HandOverPlan,
  stills: ReadonlyMap<PlannedStill, Still>,
  isWritten: boolean,
): PageContent => {
  const fileOf = (file: string | null) => (isWritten ? file : null)
  const posterOf = (still: PlannedStill | undefined) => (still && stills.get(still)?.jpegBase64) ?? null
  return {
    ...plan.page,
    logo: plan.logo && {
      dataUri: dataUriOf(plan.logo.file, plan.logo.type),
      width: plan.logo.width,
      height: plan.logo.height,
    },
    swings: plan.swings.map(({ words, stills: captioned, clip }) => ({
      ...words,
      stills: captioned.map(({ still, caption, alt }) => ({ ...stills.get(still)!, caption, alt })),
      clip: clip && {
        ...clip.words,
        file: fileOf(clip.words.file),
        posterBase64: posterOf(clip.poster?.still),
      },
    })),
    comparisons: plan.comparisons.map(({ words, still }) => ({
      ...words,
      file: fileOf(words.file),
      posterBase64: posterOf(still),
    })),
    talkThroughs: plan.talks.map(({ words }) => ({ ...words, file: fileOf(words.file) })),
    plan: plan.practice && {
      items: plan.practice.drills.map(({ words, picture }) => ({
        ...words,
        picture: picture && {
          dataUri: dataUriOf(
            picture.files.still,
            picture.files.kind === 'clip' ? 'image/jpeg' : picture.files.type,
          ),
          width: picture.files.width,
          height: picture.files.height,
          file: fileOf(picture.file),
          alt: picture.alt,
        },
      })),
      note: plan.practice.note,
    },
  }
}
