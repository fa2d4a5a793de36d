import type { Shot } from '../../../shared-core/model/entities.ts'
import type { StrikeMapReport } from '../../../shared-core/change/strike-map-report.ts'

/** The strikes of a club and the ellipse of the next ones, in millimetres of the face: x towards the toe, y up. */
export function StrikeMarks(props: { strikes: readonly Shot[]; shot: Shot; map: StrikeMapReport | null }) {
  const { strikes, shot, map } = props
  // The shot on show lies on top.
  const ownLast = strikes.toSorted((a, b) => Number(a.id === shot.id) - Number(b.id === shot.id))
  const { isShown, centreMm, semiAxesMm, angleDeg } = map?.pattern ?? {}
  return (
    <>
      {isShown && centreMm && semiAxesMm && (
        <ellipse
          className="strike-ellipse"
          rx={semiAxesMm[0]}
          ry={semiAxesMm[1]}
          transform={`translate(${centreMm.join(' ')}) rotate(${angleDeg ?? 0})`}
        />
      )}
      {map?.spot && (
        <path className="strike-spot" d={`M ${map.spot.xMm - 3} ${map.spot.yMm} h 6 m -3 -3 v 6`} />
      )}
      {ownLast.map((s) => (
        <circle
          key={s.id}
          cx={s.impactXMm!}
          cy={s.impactYMm!}
          r={s.id === shot.id ? 2.6 : 1.7}
          className={s.id === shot.id ? 'strike-own' : 'strike-other'}
        />
      ))}
    </>
  )
}
