import { CircleHelp, Star, Table2, TriangleAlert, VideoOff } from 'lucide-react'
import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { OpenLesson, Swing } from '../../../shared-core/model/entities.ts'
import { stillTitle } from '../../../shared-core/model/still.ts'
import { isUnsurePair } from '../../../shared-core/pairing/still-waiting.ts'
import { formatMetric } from '../../../shared-core/units.ts'
import { mediaUrl } from '../../store/bridge.ts'
import { clipOf, shotOf } from '../../store/desk-store.ts'

/** One swing: what it looks like, what was struck, how fast. */
export function SwingRow({
  opened,
  swing,
  number,
}: {
  opened: OpenLesson
  swing: Swing
  number: number | null
}) {
  const shot = shotOf(opened, swing)
  const picture = swing.views[0]
  const units = opened.student.units
  const ball = formatMetric('ballSpeedMps', shot?.ballSpeedMps, units)
  const club = formatMetric('clubSpeedMps', shot?.clubSpeedMps, units)
  const efficiency = shot ? efficiencyOf(shot) : null
  const waiting = swing.views.reduce((n, v) => n + v.moments.filter((m) => !m.isConfirmed).length, 0)
  const unsure = isUnsurePair(swing)
  const clip = clipOf(opened, picture ?? null)
  const still = number === null ? clip : null
  return (
    <div className={`swing-row${shot?.isLeftOut ? ' is-left-out' : ''}`}>
      <div className="swing-thumb">
        {picture ? (
          <img src={mediaUrl(picture.clipId, 'poster')} alt="" loading="lazy" draggable={false} />
        ) : (
          <VideoOff size={16} aria-label="no clip" />
        )}
        {swing.views.length > 1 && <span className="swing-views">{swing.views.length}</span>}
      </div>
      <div className="swing-text">
        <div className="swing-line">
          {number !== null && <span className="swing-number">{number}</span>}
          <span className="swing-club">
            {still ? stillTitle(still) : shot ? clubWords(shot.club) : 'no shot'}
          </span>
          {swing.isStarred && (
            <Star size={13} fill="currentColor" className="swing-star" aria-label="starred" />
          )}
          <span className="push" />
          {waiting > 0 && (
            <span className="swing-waiting" title={`${waiting} moments to confirm`}>
              {waiting}
              <span className="unseen"> moments to confirm</span>
            </span>
          )}
          {unsure && <CircleHelp size={14} className="swing-unsure" aria-label="pair is unsure" />}
          {shot && shot.flags.length > 0 && (
            <TriangleAlert size={14} className="swing-unsure" aria-label="a value looks wrong" />
          )}
        </div>
        {shot ? (
          <div className="swing-numbers">
            <span title="ball speed">
              {ball.text}
              <span className="unseen"> {ball.unit} ball speed</span>
            </span>
            <span title="club speed" className="soft">
              {club.text}
              <span className="unseen"> {club.unit} club speed</span>
            </span>
            <span title="efficiency" className="swing-efficiency">
              {formatMetric('efficiency', efficiency?.value, units).text}
            </span>
          </div>
        ) : still ? (
          <div className="fine soft still-name">{still.fileName}</div>
        ) : (
          <div className="fine soft row" style={{ gap: 4 }}>
            <Table2 size={13} aria-hidden /> drag its shot here
          </div>
        )}
      </div>
    </div>
  )
}
