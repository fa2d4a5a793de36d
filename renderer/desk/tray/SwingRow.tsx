import { CircleHelp, Star, Table2, TriangleAlert, VideoOff } from 'lucide-react'
import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { OpenLesson, Swing } from '../../../shared-core/model/entities.ts'
import { stillTitle } from '../../../shared-core/model/still.ts'
import { isUnsurePair } from '../../../shared-core/pairing/still-waiting.ts'
import { formatMetric } from '../../../shared-core/units.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { posterUrl } from '../../store/bridge.ts'
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
        {clip ? (
          <img src={posterUrl(clip)} alt="" loading="lazy" draggable={false} />
        ) : (
          <VideoOff size={16} aria-label={trayWords('noClip')} />
        )}
        {swing.views.length > 1 && <span className="swing-views">{swing.views.length}</span>}
      </div>
      <div className="swing-text">
        <div className="swing-line">
          {number !== null && <span className="swing-number">{number}</span>}
          <span className="swing-club">
            {still ? stillTitle(still) : shot ? clubWords(shot.club) : trayWords('noShot')}
          </span>
          {swing.isStarred && (
            <Star size={13} fill="currentColor" className="swing-star" aria-label={trayWords('starred')} />
          )}
          <span className="push" />
          {waiting > 0 && (
            <span className="swing-waiting" title={trayWords('momentsToConfirm', { count: waiting })}>
              {waiting}
              <span className="unseen"> {trayWords('moments', { count: waiting })}</span>
            </span>
          )}
          {unsure && <CircleHelp size={14} className="swing-unsure" aria-label={trayWords('unsurePair')} />}
          {shot && shot.flags.length > 0 && (
            <TriangleAlert size={14} className="swing-unsure" aria-label={trayWords('looksWrong')} />
          )}
        </div>
        {shot ? (
          <div className="swing-numbers">
            <span title={trayWords('ballSpeed')}>
              {ball.text}
              <span className="unseen"> {trayWords('unitBallSpeed', { unit: ball.unit })}</span>
            </span>
            <span title={trayWords('clubSpeed')} className="soft">
              {club.text}
              <span className="unseen"> {trayWords('unitClubSpeed', { unit: club.unit })}</span>
            </span>
            <span title={trayWords('efficiency')} className="swing-efficiency">
              {formatMetric('efficiency', efficiency?.value, units).text}
            </span>
          </div>
        ) : still ? (
          <div className="fine soft still-name">{still.fileName}</div>
        ) : (
          <div className="fine soft row" style={{ gap: 4 }}>
            <Table2 size={13} aria-hidden /> {trayWords('dragShot')}
          </div>
        )}
      </div>
    </div>
  )
}
