import { useCallback, useEffect, useMemo, useSyncExternalStore } from 'react'
import { efficiencyOf } from '../../shared-core/impact/efficiency.ts'
import { clubWords } from '../../shared-core/model/club.ts'
import type { OpenLesson, Shot, Swing } from '../../shared-core/model/entities.ts'
import { stillWaitingWords } from '../../shared-core/pairing/still-waiting.ts'
import { asAsked } from '../../shared-core/report/as-asked.ts'
import {
  lessonPicture,
  lessonPictureOptions,
  lessonPictureWords,
} from '../../shared-core/report/lesson-picture.ts'
import type { LessonReport } from '../../shared-core/report/lesson-report.ts'
import { formatMetric } from '../../shared-core/units.ts'
import { pictureShots } from '../desk/ledger/LessonPicture.tsx'
import { useSoundReport } from '../desk/ledger/use-report.ts'
import { useOpenedLesson } from '../desk/use-opened-lesson.ts'
import { commands } from '../keys/commands.ts'
import { keysOf } from '../keys/handle-keys.ts'
import { LessonGone } from '../parts/LessonGone.tsx'
import { nodes } from '../parts/nodes.tsx'
import { Chart, type ChartLook } from '../parts/Chart.tsx'
import { blockOf, clipOf, shotOf, swingsInOrder, useDesk } from '../store/desk-store.ts'
import { useLive } from '../store/live.ts'
import { BayPicture } from './BayPicture.tsx'
import { openBay, swingInBay, useBay } from './bay-store.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'
import './bay.css'

/** For a screen that coach and student both look at from three metres; nothing private stands on it. */
export function Bay({ lessonId }: { lessonId: string }) {
  const opened = useDesk((s) => (s.lessonId === lessonId ? s.opened : null))
  const isGone = useDesk((s) => s.isGone)
  useEffect(openBay, [lessonId])
  useOpenedLesson(lessonId)
  if (isGone) return <LessonGone />
  return <main className="bay">{opened && <BayOf opened={opened} />}</main>
}

function BayOf({ opened }: { opened: OpenLesson }) {
  const frozenSwingId = useBay((s) => s.frozenSwingId)
  const isLooping = useBay((s) => s.isLooping)
  const report = useSoundReport()
  const swing = swingInBay(opened, frozenSwingId)
  const isFrozen = frozenSwingId !== null && swing?.id === frozenSwingId
  const picture = swing?.views[0] ?? null
  const clip = clipOf(opened, picture)
  const shot = shotOf(opened, swing)
  return (
    <>
      <Asked opened={opened} />
      <section className="bay-stage" aria-label={liveWords('lastSwing')}>
        {picture && clip ? (
          <BayPicture key={picture.id} view={picture} clip={clip} isLooping={isLooping && !isFrozen} />
        ) : (
          <p className="bay-note">{swing ? liveWords('noClipYet') : liveWords('firstSwingComesUp')}</p>
        )}
        <Standing opened={opened} swing={swing} isFrozen={isFrozen} />
      </section>
      <Figures opened={opened} swing={swing} shot={shot} report={report} />
      <Dots opened={opened} report={report} shot={shot} swing={swing} />
      <Foot opened={opened} />
    </>
  )
}

/** What the block asks for, and how many in a row did it. */
function Asked({ opened }: { opened: OpenLesson }) {
  const blocks = [...opened.blocks].sort((a, b) => a.order - b.order)
  const block = blocks.at(-1)
  const swings = swingsInOrder(opened).filter((s) => s.blockId === block?.id)
  const { inARow, did, said } = asAsked(
    swings.map((s) => ({ didAsked: s.didAsked, isLeftOut: shotOf(opened, s)?.isLeftOut ?? false })),
  )
  return (
    <header className="bay-asked">
      <h1>{block?.focus || block?.name || liveWords('firstSwings')}</h1>
      {said > 0 && (
        <p className="bay-row" role="status">
          {nodes(liveWords, 'inARow', { count: <b>{inARow}</b> })}
          <span className="bay-of">{commonWords('countOf', { count: did, all: said })}</span>
        </p>
      )}
    </header>
  )
}

/** What the picture is: which swing, starred, left out, said of it; and whether it stays. */
function Standing({
  opened,
  swing,
  isFrozen,
}: {
  opened: OpenLesson
  swing: Swing | null
  isFrozen: boolean
}) {
  if (!swing) return null
  const order = swingsInOrder(opened)
  const number = order.findIndex((s) => s.id === swing.id) + 1
  const newer = order.length - number
  const shot = shotOf(opened, swing)
  const words = [
    commonWords('swingNumbered', { number }),
    ...(swing.isStarred ? [liveWords('starred')] : []),
    ...(shot?.isLeftOut ? [liveWords('leftOut')] : []),
    ...(swing.didAsked === null ? [] : [swing.didAsked ? liveWords('didIt') : liveWords('notYet')]),
  ]
  return (
    <p className="bay-standing" role="status">
      {words.join(' · ')}
      {isFrozen && <b>{newer > 0 ? liveWords('frozenNewer', { newer }) : liveWords('frozen')}</b>}
    </p>
  )
}

function Figures(props: {
  opened: OpenLesson
  swing: Swing | null
  shot: Shot | null
  report: LessonReport | null
}) {
  const { opened, swing, shot, report } = props
  const units = opened.student.units
  const block = blockOf(opened, swing)
  const worked = shot && shot.carryM === null ? report?.shots.find((s) => s.shotId === shot.id) : undefined
  const carryM = shot?.carryM ?? worked?.carry.carryM ?? null
  const figures = [
    { name: 'efficiency' as const, label: liveWords('efficiency'), value: shot && efficiencyOf(shot)?.value },
    { name: 'ballSpeedMps' as const, label: liveWords('ball'), value: shot?.ballSpeedMps },
    { name: 'clubSpeedMps' as const, label: liveWords('club'), value: shot?.clubSpeedMps },
    {
      name: 'carryM' as const,
      label: worked ? liveWords('carryWorkedOut') : liveWords('carry'),
      value: carryM,
    },
  ]
  return (
    <section className="bay-figures" aria-label={liveWords('numbersOfSwing')}>
      {figures.map(({ name, label, value }) => {
        const { text, unit } = formatMetric(name, value, units)
        return (
          <div key={name} className={`bay-figure bay-${name}`}>
            <span className="bay-label">{label}</span>
            <span className="bay-number">
              {text}
              {unit && <small> {unit}</small>}
            </span>
          </div>
        )
      })}
      <p className="bay-what">
        {shot ? clubWords(shot.club) : swing ? liveWords('noNumbersYet') : ''}
        {block && swing && block.focus !== '' && block.id !== lastBlockId(opened)
          ? liveWords('asked', { focus: block.focus })
          : ''}
      </p>
    </section>
  )
}

const lastBlockId = (opened: OpenLesson): string | undefined =>
  [...opened.blocks].sort((a, b) => a.order - b.order).at(-1)?.id

/** Every shot of today with this club, in the order hit. */
function Dots(props: {
  opened: OpenLesson
  report: LessonReport | null
  shot: Shot | null
  swing: Swing | null
}) {
  const { opened, report, shot, swing } = props
  const { width, height } = useWindowSize()
  const textPx = Math.max(18, Math.round(height / 42))
  const widthPx = Math.round(width * 0.42)
  const activeSwingId = swing?.id ?? null
  const club = shot ? shot.club : (shotOf(opened, newestWithShot(opened))?.club ?? null)
  const picture = useMemo(
    () => report && lessonPicture(report, pictureShots(opened), 'efficiency', club),
    [report, opened, club],
  )
  const options = useCallback(
    (look: ChartLook) =>
      picture
        ? lessonPictureOptions(picture, { units: opened.student.units, look, activeSwingId, textPx, widthPx })
        : {},
    [picture, opened.student.units, activeSwingId, textPx, widthPx],
  )
  return (
    <section className="bay-dots" aria-label={liveWords('today')}>
      {picture && picture.dots.length > 0 && (
        <Chart
          options={options}
          text={lessonPictureWords(picture, opened.student.units, null)}
          height={Math.round(height * 0.34)}
          fontSizePx={textPx}
        />
      )}
    </section>
  )
}

const newestWithShot = (opened: OpenLesson): Swing | null =>
  swingsInOrder(opened).findLast((s) => s.shotId !== null) ?? null

/** The keys, and what waits to be settled later. */
function Foot({ opened }: { opened: OpenLesson }) {
  const live = useLive((s) => s.state)
  const open = stillWaitingWords(swingsInOrder(opened), opened.shots.length > 0)
  const waiting = live?.isOn ? live.waiting.length : 0
  const status = [
    ...(live?.isOn ? [liveWords('live')] : []),
    ...(live?.isOn && live.clipsProblem ? [live.clipsProblem] : []),
    ...(live?.isOn && live.shotsProblem ? [live.shotsProblem] : []),
    ...(waiting > 0 ? [liveWords('arriving', { waiting })] : []),
    ...open,
  ]
  return (
    <footer className="bay-foot">
      <div className="bay-keys">
        {commands
          .filter((c) => c.when === 'bay' && c.name !== 'bay-undo')
          .map((c) => (
            <button key={c.name} type="button" className="bay-key" onClick={c.run}>
              <kbd>{keysOf(c.name)}</kbd> {c.label}
            </button>
          ))}
      </div>
      <p className="bay-status" role="status">
        {status.join(' · ')}
      </p>
    </footer>
  )
}

const onResize = (tell: () => void) => {
  addEventListener('resize', tell)
  return () => removeEventListener('resize', tell)
}
const useWindowSize = () => ({
  width: useSyncExternalStore(onResize, () => innerWidth),
  height: useSyncExternalStore(onResize, () => innerHeight),
})
