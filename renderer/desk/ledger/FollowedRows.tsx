import { holdsOnToBall, pointSpeed } from '../../../shared-core/following/point-speed.ts'
import type { OpenLesson, Swing, View } from '../../../shared-core/model/entities.ts'
import { formatMetric, metricText } from '../../../shared-core/units.ts'
import { Action } from '../../parts/Action.tsx'
import { impactOf, shotOf, useDesk } from '../../store/desk-store.ts'
import { removeFollowed, useFollowed, type FollowedOnStage } from '../../store/followed.ts'
import { lostWords } from '../stage/follow-words.ts'
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
  if (!shown || shown.length === 0) return null
  return (
    <section className="ledger-part" aria-label="Followed points">
      <h2>Followed points</h2>
      {shown.map((point) => (
        <Followed key={point.id} point={point} opened={opened} swing={swing} picture={picture} />
      ))}
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
  const speed =
    clip?.pixelsPerMeter && atSeconds && !isStuck
      ? pointSpeed(point.track, { ...clip, atSeconds }, at, clip.pixelsPerMeter)
      : null
  const device = isClubHead ? (shotOf(opened, swing)?.clubSpeedMps ?? null) : null
  const drawing = picture.drawings.find((d) => d.tie?.to.kind === 'way' && d.tie.to.id === point.id)
  const where = isClubHead && impact ? 'up to impact' : 'on this frame'
  const shown = speed && formatMetric('clubSpeedMps', speed.speedMps, units)
  return (
    <div className="followed-point">
      <div className="ledger-head">
        <b>The {point.name}</b>
        <span className="push" />
        {drawing ? (
          <Action
            small
            withLabel
            tone="plain"
            label="Select its way"
            onPress={() =>
              useDesk.setState({ selectedDrawingIds: new Set([drawing.id]), tool: { name: 'look' } })
            }
          />
        ) : (
          <Action
            small
            withLabel
            tone="plain"
            label="Stop following"
            onPress={() => void removeFollowed(point.id)}
          />
        )}
      </div>
      <p className="fine soft">{lostWords(point)}.</p>
      {shown && speed && (
        <dl className="measure-list">
          <div>
            <dt>Speed in the picture, {where}</dt>
            <dd>
              <b>{shown.text}</b> <span className="unit">{shown.unit}</span>{' '}
              <span className="soft fine">± {formatMetric('clubSpeedMps', speed.sdMps, units).text}</span>
            </dd>
          </div>
          {device !== null && (
            <div>
              <dt>The device says</dt>
              <dd>
                <b>{formatMetric('clubSpeedMps', device, units).text}</b>{' '}
                <span className="unit">{shown.unit}</span>{' '}
                <span className="soft fine">
                  picture {speed.speedMps >= device ? '+' : '−'}
                  {metricText('clubSpeedMps', Math.abs(speed.speedMps - device), units)}
                </span>
              </dd>
            </div>
          )}
        </dl>
      )}
      {isStuck && (
        <p className="fine">
          Just before impact this point lies still: it holds on to the ball or the mat. Mark the club head
          again on a frame of the downswing.
        </p>
      )}
      <p className="fine soft">
        {clip?.pixelsPerMeter
          ? speed
            ? `One camera sees only movement across its picture, at the depth where the ruler was drawn: what is nearer looks faster, by up to a quarter, and that is in the ±. Draw the ruler at the ball for its speed.${isClubHead ? ' The device’s number counts.' : ''}`
            : isStuck
              ? 'No speed is told from it.'
              : `No speed ${where}: the point was not found on enough frames just before it.`
          : 'Set a scale for its speed: draw a ruler on something of known length.'}
      </p>
    </div>
  )
}
