import { dayWord, sayWord } from '../../../shared-core/wording/phrase.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { SeasonView } from '../../../shared-core/report/season-view.ts'
import { seasonLinesTexts } from '../../../shared-core/wording/command-line/season-lines.ts'

const dayWords = (day: string): string => sayWord(dayWord(day))

/** A season as readable lines: the club hit most, its findings, what was kept before, and what came after the last plan. */
export const seasonLines = (season: SeasonView): string[] => {
  const [club] = season.clubs
  if (!club) return [seasonLinesTexts('seasonNoNumbersYet')]
  const said = (findings: readonly { sentence: string; howSure: string }[]) =>
    findings.flatMap((f) => ['', `• ${f.sentence}`, `  ${f.howSure}`])
  const [plan] = club.plans
  const keptBefore = club.kept
    .slice(1)
    .map((kept) => ({ ...kept, sure: kept.findings.filter((f) => f.isSure) }))
  return [
    seasonLinesTexts('seasonNameLessons', {
      name: season.student.name,
      lessons: club.report.lessons,
      club: clubWords(club.club),
    }),
    ...said(club.findings),
    ...keptBefore.flatMap(({ gainedOn, shownOn, sure }) => [
      '',
      seasonLinesTexts(sure.length === 0 ? 'keptNothingSure' : 'kept', {
        shown: dayWords(shownOn),
        gained: dayWords(gainedOn),
      }),
      ...said(sure).slice(1),
    ]),
    ...(plan
      ? [
          '',
          seasonLinesTexts('afterPlanPlannedOn', { plannedOn: dayWords(plan.plannedOn) }),
          ...said(plan.findings).slice(1),
        ]
      : []),
  ]
}
