import { useCallback, useMemo, useState } from 'react'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import {
  clubsOfReport,
  lessonPicture,
  lessonPictureOptions,
  lessonPictureWords,
  pictureMetrics,
  type PictureShot,
} from '../../../shared-core/report/lesson-picture.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { metricLabel, metricUnit, type ShownMetric } from '../../../shared-core/units.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { Chart, type ChartLook } from '../../parts/Chart.tsx'
import { Choice } from '../../parts/Choice.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { activateSwing, useDesk } from '../../store/desk-store.ts'

/** The lesson in one picture: a dot a shot in the order hit; pressed, its swing stands on the Stage. */
export function LessonPicture(props: {
  opened: OpenLesson
  report: LessonReport
  /** Read with the picture. */
  finding: string | null
  heightPx?: number
  textPx?: number
}) {
  const { opened, report, finding, heightPx = 230, textPx = 12 } = props
  const activeSwingId = useDesk((s) => s.activeSwingId)
  const clubs = useMemo(() => clubsOfReport(report), [report])
  const [metric, setMetric] = useState<ShownMetric>('efficiency')
  const [chosenClub, setClub] = useState<string | null>(null)
  const club = chosenClub !== null && clubs.includes(chosenClub) ? chosenClub : (clubs[0] ?? null)
  const shots = useMemo(() => pictureShots(opened), [opened])
  const picture = useMemo(() => lessonPicture(report, shots, metric, club), [report, shots, metric, club])
  const { units } = report
  const options = useCallback(
    (look: ChartLook, widthPx: number) =>
      lessonPictureOptions(picture, { units, look, activeSwingId, textPx, widthPx }),
    [picture, units, activeSwingId, textPx],
  )
  const unit = metricUnit(metric, units)
  return (
    <div className="lesson-picture">
      <div className="lesson-picture-bar">
        <Choice
          small
          label={ledgerWords('pictureShows')}
          value={metric}
          options={pictureMetrics.map((name) => ({ value: name, label: metricLabel(name) }))}
          onChange={setMetric}
        />
        {clubs.length > 1 && (
          <Pick
            hideLabel
            label={ledgerWords('clubOfPicture')}
            value={club ?? 'unknown'}
            options={clubs.map((c) => ({ value: c ?? 'unknown', label: clubWords(c) }))}
            onChange={(next) => setClub(next)}
          />
        )}
      </div>
      {picture.dots.length === 0 ? (
        <p className="fine soft">
          {ledgerWords('notRecordedWithClub', { number: metricLabel(metric), club: clubWords(club) })}
        </p>
      ) : (
        <Chart
          options={options}
          text={lessonPictureWords(picture, units, finding)}
          height={heightPx}
          fontSizePx={textPx}
          onPress={activateSwing}
        />
      )}
      <p className="fine soft lesson-picture-key">
        {unit
          ? ledgerWords('pictureKeyOfUnit', { unit, key: ledgerWords('pictureKey') })
          : ledgerWords('pictureKey')}
      </p>
    </div>
  )
}

export const pictureShots = (opened: OpenLesson): PictureShot[] => {
  const swings = new Map(opened.swings.flatMap((s) => (s.shotId ? [[s.shotId, s] as const] : [])))
  return opened.shots.map((shot) => {
    const swing = swings.get(shot.id)
    return {
      id: shot.id,
      swingId: swing?.id ?? null,
      hasClip: (swing?.views.length ?? 0) > 0,
      clubSpeedMps: shot.clubSpeedMps,
      ballSpeedMps: shot.ballSpeedMps,
    }
  })
}
