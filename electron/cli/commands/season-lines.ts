import { dayWord, sayWord } from '../../../shared-core/wording/phrase.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { SeasonView } from '../../../shared-core/report/season-view.ts'

const dayWords = (day: string): string => sayWord(dayWord(day))

/** A season as readable lines: the club hit most, its findings, what was kept before, and what came after the last plan. */
export const seasonLines = (season: SeasonView): string[] => {
  const [club] = season.clubs
  if (!club) return ['Season: no numbers yet.']
  const said = (findings: readonly { sentence: string; howSure: string }[]) =>
    findings.flatMap((f) => ['', `• ${f.sentence}`, `  ${f.howSure}`])
  const [plan] = club.plans
  const keptBefore = club.kept
    .slice(1)
    .map((kept) => ({ ...kept, sure: kept.findings.filter((f) => f.isSure) }))
  return [
    `Season of ${season.student.name}, ${club.report.lessons} lessons with the ${clubWords(club.club)}`,
    ...said(club.findings),
    ...keptBefore.flatMap(({ gainedOn, shownOn, sure }) => [
      '',
      `Kept on ${dayWords(shownOn)} of the gain of ${dayWords(gainedOn)}${sure.length === 0 ? ': nothing is sure' : ''}`,
      ...said(sure).slice(1),
    ]),
    ...(plan ? ['', `After the plan of ${dayWords(plan.plannedOn)}`, ...said(plan.findings).slice(1)] : []),
  ]
}
