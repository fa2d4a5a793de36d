import { isHelpedByBody } from '../../../shared-core/body/carrier.ts'
import { holdsOnToBall, isSeenFromItsEnd, pointSpeed } from '../../../shared-core/following/point-speed.ts'
import type { OpenLesson, Swing, View } from '../../../shared-core/model/entities.ts'
import { formatMetric } from '../../../shared-core/units.ts'
import { measuresWords } from '../../../shared-core/wording/window/measures.ts'
import { Action } from '../../parts/Action.tsx'
import { impactOf, shotOf, useDesk } from '../../store/desk-store.ts'
import { removeFollowed, useFollowed, type FollowedOnStage } from '../../store/followed.ts'
import { lostWords, thingWords } from '../stage/follow-words.ts'
import { useTimestamps } from '../stage/use-timestamps.ts'

/** Followed points of the picture on show: how far each was found, and its speed once a scale is set. */
export function FollowedRows({
  opened,
  swing,
  picture,
}: {
  opened: OpenLesson
  swing: Swing
  picture: View
}) {
  const points = useFollowed((s) => s.clips[picture.clipId]?.points)
  const shown = points?.filter((p) => p.toFrame >= picture.fromFrame && p.fromFrame <= picture.toFrame)
  const isRead = useFollowed((s) => (s.clips[picture.clipId]?.body.frames.length ?? 0) > 0)
  if (!shown || shown.length === 0) return null
  const hasScale = (opened.clips.find((c) => c.id === picture.clipId)?.pixelsPerMeter ?? null) !== null
  const canBeCarried = shown.filter((p) => isHelpedByBody(p.name))
  return (
    <section className="ledger-part" aria-label={measuresWords('followed')}>
      <h2>{measuresWords('followed')}</h2>
      {shown.map((point) => (
        <Followed key={point.id} point={point} opened={opened} swing={swing} picture={picture} />
      ))}
      {isRead && canBeCarried.length > 0 && <p className="fine soft">{measuresWords('bodyCarries')}</p>}
      {!isRead && canBeCarried.some((p) => p.lost.length > 0) && (
        <p className="fine">{measuresWords('bodyCanCarry')}</p>
      )}
      <p className="fine soft">{measuresWords(hasScale ? 'oneCamera' : 'noScale')}</p>
    </section>
  )
}

function Followed(props: { point: FollowedOnStage; opened: OpenLesson; swing: Swing; picture: View }) {
  const { point, opened, swing, picture } = props
  const clip = opened.clips.find((c) => c.id === picture.clipId)
  const atSeconds = useTimestamps(picture.clipId)
  const frame = useDesk((s) => s.frame)
  const impact = impactOf(picture)
  const units = opened.student.units
  const isClubHead = point.name === 'club head'
  const at = isClubHead && impact ? impact.frame : frame
  const isStuck =
    isClubHead &&
    impact !== null &&
    clip !== undefined &&
    atSeconds !== null &&
    holdsOnToBall(point.track, { ...clip, atSeconds }, impact.frame)
  const isFromEnd =
    isClubHead &&
    impact !== null &&
    atSeconds !== null &&
    clip !== undefined &&
    clip.pixelsPerMeter !== null &&
    isSeenFromItsEnd(point.track, { ...clip, atSeconds }, impact.frame, clip.pixelsPerMeter)
  const speed =
    clip?.pixelsPerMeter && atSeconds && !isStuck && !isFromEnd
      ? pointSpeed(point.track, { ...clip, atSeconds }, at, clip.pixelsPerMeter)
      : null
  const device = isClubHead ? (shotOf(opened, swing)?.clubSpeedMps ?? null) : null
  const drawing = picture.drawings.find((d) => d.tie?.to.kind === 'way' && d.tie.to.id === point.id)
  const isUpToImpact = isClubHead && impact !== null
  const shown = speed && formatMetric('clubSpeedMps', speed.speedMps, units)
  return (
    <div className="followed-point">
      <div className="ledger-head">
        <b>{measuresWords('followedPoint', { point: thingWords(point.name) })}</b>
        <span className="push" />
        {drawing ? (
          <Action
            small
            withLabel
            tone="plain"
            label={measuresWords('selectWay')}
            onPress={() =>
              useDesk.setState({ selectedDrawingIds: new Set([drawing.id]), tool: { name: 'look' } })
            }
          />
        ) : (
          <Action
            small
            withLabel
            tone="plain"
            label={measuresWords('stopFollowing')}
            onPress={() => void removeFollowed(point.id)}
          />
        )}
      </div>
      <p className="fine soft">{measuresWords('lost', { lost: lostWords(point) })}</p>
      {shown && speed && (
        <dl className="measure-list">
          <div>
            <dt>{measuresWords(isUpToImpact ? 'speedUpToImpact' : 'speedOnFrame')}</dt>
            <dd>
              <b>{shown.text}</b> <span className="unit">{shown.unit}</span>{' '}
              <span className="soft fine">± {formatMetric('clubSpeedMps', speed.sdMps, units).text}</span>
            </dd>
          </div>
          {device !== null && (
            <>
              <div>
                <dt>{measuresWords('deviceSays')}</dt>
                <dd>
                  <b>{formatMetric('clubSpeedMps', device, units).text}</b>{' '}
                  <span className="unit">{shown.unit}</span>
                </dd>
              </div>
              <div>
                <dt>{measuresWords(speed.speedMps >= device ? 'overDevice' : 'underDevice')}</dt>
                <dd>
                  <b>{formatMetric('clubSpeedMps', Math.abs(speed.speedMps - device), units).text}</b>{' '}
                  <span className="unit">{shown.unit}</span>{' '}
                  <span className="soft fine">{measuresWords('deviceCounts')}</span>
                </dd>
              </div>
            </>
          )}
        </dl>
      )}
      {isStuck && <p className="fine">{measuresWords('holdsOn')}</p>}
      {isFromEnd && !isStuck && <p className="fine">{measuresWords('seenFromItsEnd')}</p>}
      {clip?.pixelsPerMeter && !speed && (
        <p className="fine soft">
          {isStuck || isFromEnd
            ? measuresWords('noSpeed')
            : measuresWords(isUpToImpact ? 'noSpeedUpToImpact' : 'noSpeedOnFrame')}
        </p>
      )}
    </div>
  )
}
