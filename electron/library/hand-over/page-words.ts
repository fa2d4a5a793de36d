import type { PageCard, PageContent, PageFinding } from '../../../shared-core/hand-over/page.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import type { HandOverDraft } from '../../../shared-core/model/hand-over.ts'
import { metricByShotChart } from '../../../shared-core/report/charts.ts'
import type { KeyedFinding, LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { betterBlock } from '../../../shared-core/report/lesson-sentence.ts'
import { unitNoteForStudent } from '../../../shared-core/report/reading-notes.ts'
import { studentText, studentTexts } from '../../../shared-core/report/student-words.ts'
import { blockIn, clubIn, labelIn, metricTextIn, sayIn, type Say } from '../../../shared-core/wording/say.ts'
import { chartSvg } from './chart-svg.ts'

interface PageInput {
  lesson: OpenLesson
  draft: HandOverDraft
  report: LessonReport
}

/** The findings of the hand-over in the coach's order, in the coach's words where there are any, else in the student's. */
const wantedFindings = ({ draft, report }: PageInput, say: Say) => {
  const position = new Map(draft.findings.map((f, i) => [f.key, i]))
  const chosen = new Map(draft.findings.map((f) => [f.key, f]))
  const ownWords = (f: KeyedFinding) => chosen.get(f.key)?.sentence || null
  const wanted = report.findings
    .filter((f) => chosen.get(f.key)?.isShown ?? f.isMain)
    .toSorted((a, b) => (position.get(a.key) ?? Infinity) - (position.get(b.key) ?? Infinity) || 0)
  const said = new Map(
    studentTexts(
      wanted.filter((f) => ownWords(f) === null),
      report,
      say,
    ).map((text) => [text.key, text]),
  )
  return wanted.flatMap((finding) => {
    const own = ownWords(finding)
    const words = own === null ? said.get(finding.key) : studentText(finding, report, say)
    if (!words) return []
    return [{ finding, sentence: own ?? words.sentence, howSure: words.howSure, isOwn: own !== null }]
  })
}

/** What held back, what changed, what to do until next time; and what else was found. Nothing is said twice. */
const pageFindings = (input: PageInput, say: Say): { cards: PageCard[]; more: PageFinding[] } => {
  const wanted = wantedFindings(input, say)
  const said = new Set<string>()
  const once = (text: string | null) => {
    if (text === null || said.has(text)) return null
    said.add(text)
    return text
  }
  const card = (title: string, of: (typeof wanted)[number] | undefined): PageCard[] =>
    of ? [{ title, text: of.sentence, howSure: of.howSure, caution: once(of.finding.caution) }] : []
  const best = betterBlock(input.report)
  const changes = wanted.filter((w) => w.finding.topic === 'change')
  const held = wanted.find((w) => w.finding.topic === 'holding-back')
  const changed =
    changes.find((w) => w.isOwn) ??
    changes.find((w) => w.finding.isSure && best !== null && w.finding.key.split(':')[1] === best) ??
    changes.find((w) => w.finding.isSure) ??
    changes[0]
  const cards = [...card(say('page.heldBack'), held), ...card(say('page.changed'), changed)]
  for (const { text } of cards) said.add(text)
  const more = wanted.flatMap((w): PageFinding[] => {
    if (w === held || w === changed || said.has(w.sentence)) return []
    said.add(w.sentence)
    return [{ sentence: w.sentence, howSure: w.howSure, caution: once(w.finding.caution) }]
  })
  return { cards, more }
}

/** The third card: the focus for next time, else the drills by name. */
export const nextCard = (nextFocus: string, drills: readonly string[], say: Say): PageCard[] => {
  const text = [
    nextFocus.trim() &&
      `${nextFocus.trim().charAt(0).toUpperCase()}${nextFocus.trim().slice(1)}.`.replace(/([.!?])\.$/, '$1'),
    drills.length ? say('page.practise', { drills: drills.join(', ') }) : '',
  ]
    .filter(Boolean)
    .join(' ')
  return text ? [{ title: say('page.untilNext'), text, howSure: '', caution: null }] : []
}

/** The page's words, numbers and charts, from the draft and the report. */
export const pageWords = (
  input: PageInput,
): Omit<PageContent, 'swings' | 'comparisons' | 'talkThroughs' | 'plan' | 'logo'> => {
  const { lesson, draft, report } = input
  const { units, language } = lesson.student
  const say = sayIn(language)
  const findings = pageFindings(input, say)
  const { club } = report.session
  const speeds = new Map(lesson.shots.map((s) => [s.id, s.clubSpeedMps]))
  // One chart: the strike, unless only the speed is there.
  const charts = (['efficiency', 'clubSpeedMps'] as const)
    .flatMap((metric) => {
      const chartAt = (width: 'wide' | 'narrow') =>
        metricByShotChart(report, metric, club, speeds, { units, width, say })
      const [wide, narrow] = [chartAt('wide'), chartAt('narrow')]
      return wide && narrow
        ? [{ title: wide.title, text: wide.text, svg: chartSvg(wide), narrowSvg: chartSvg(narrow) }]
        : []
    })
    .slice(0, 1)
  const metrics = report.blocks[0]?.metrics.map((m) => m.metric) ?? []
  return {
    language,
    title: lesson.lesson.title || say('page.yourLesson'),
    studentName: lesson.student.name,
    date: lesson.lesson.date,
    coachName: draft.coachName,
    place: lesson.lesson.place,
    message: draft.message,
    accent: draft.accent,
    blocks: report.blocks.length
      ? {
          headers: [
            say('page.block'),
            say('page.club'),
            say('page.shotCount'),
            ...metrics.map((m) => labelIn(say, m)),
          ],
          rows: report.blocks.map((b) => [
            blockIn(say, b.label),
            clubIn(say, b.club),
            String(b.shots),
            ...b.metrics.map((m) => metricTextIn(say, m.metric, m.median, units)),
          ]),
        }
      : null,
    cards: findings.cards,
    moreFindings: findings.more,
    unitNote: unitNoteForStudent(lesson.shots, say),
    charts,
    nextFocus: lesson.lesson.nextFocus,
  }
}
