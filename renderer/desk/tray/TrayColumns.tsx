import type { UnitSystem } from '../../../shared-core/model/entities.ts'
import { metricUnit } from '../../../shared-core/units.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { nodes } from '../../parts/nodes.tsx'

/** What the numbers of each row are, and in which units; each row says it itself to a screen reader. */
export function TrayColumns({ units }: { units: UnitSystem }) {
  const speed = metricUnit('ballSpeedMps', units)
  return (
    <div className="tray-columns" aria-hidden>
      <span>{nodes(trayWords, 'columnBall', { unit: <span className="tray-unit">{speed}</span> })}</span>
      <span>{nodes(trayWords, 'columnClub', { unit: <span className="tray-unit">{speed}</span> })}</span>
      <span>
        {nodes(trayWords, 'columnEfficiency', {
          perClub: <span className="tray-unit">{trayWords('perClub')}</span>,
        })}
      </span>
    </div>
  )
}
