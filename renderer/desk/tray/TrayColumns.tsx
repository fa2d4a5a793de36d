import type { UnitSystem } from '../../../shared-core/model/entities.ts'
import { metricUnit } from '../../../shared-core/units.ts'

/** What the numbers of each row are, and in which units; each row says it itself to a screen reader. */
export function TrayColumns({ units }: { units: UnitSystem }) {
  const speed = metricUnit('ballSpeedMps', units)
  return (
    <div className="tray-columns" aria-hidden>
      <span>
        ball <span className="tray-unit">{speed}</span>
      </span>
      <span>
        club <span className="tray-unit">{speed}</span>
      </span>
      <span>
        ball <span className="tray-unit">/ club</span>
      </span>
    </div>
  )
}
