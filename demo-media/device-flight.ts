/**
 * How the invented device turns its readings into carry: point mass with drag and lift, coefficients of the
 * form CD = 0.171 + 0.62 S, CL = 0.083 + 0.885 S (Quintavalla 2002, Science and Golf IV, ch. 30, as quoted in
 * public course codes), S capped at 0.30, air 1.20 kg/m³, fixed steps of 2 ms. Metres and degrees; side is + to
 * the right.
 */
export const deviceFlight = (
  ballSpeedMps: number,
  launchDeg: number,
  launchDirectionDeg: number,
  spinRpm: number,
  spinAxisDeg: number,
): { carryM: number; sideM: number; apexM: number; descentDeg: number } => {
  const rad = Math.PI / 180
  const dt = 0.002
  const area = Math.PI * 0.02134 ** 2
  const k = (0.5 * 1.2 * area) / 0.04593
  const omega = (spinRpm * 2 * Math.PI) / 60
  let x = 0
  let y = 0
  let z = 0
  let vx = ballSpeedMps * Math.cos(launchDeg * rad) * Math.cos(launchDirectionDeg * rad)
  let vy = ballSpeedMps * Math.sin(launchDeg * rad)
  let vz = ballSpeedMps * Math.cos(launchDeg * rad) * Math.sin(launchDirectionDeg * rad)
  let apexM = 0
  for (let t = 0; t < 15 && y >= 0; t += dt) {
    const v = Math.hypot(vx, vy, vz)
    const s = Math.min(0.3, (omega * Math.exp(-t / 25) * 0.02134) / v)
    const drag = k * v * (0.171 + 0.62 * s)
    const lift = k * v * v * (0.083 + 0.885 * s)
    const level = Math.hypot(vx, vz)
    // Lift is square to the path; tilting the spin axis leans it to the right.
    const ux = (-vy / v) * (vx / level)
    const uy = level / v
    const uz = (-vy / v) * (vz / level)
    const rx = -vz / level
    const rz = vx / level
    const ca = Math.cos(spinAxisDeg * rad)
    const sa = Math.sin(spinAxisDeg * rad)
    vx += (-drag * vx + lift * (ux * ca + rx * sa)) * dt
    vy += (-drag * vy + lift * uy * ca - 9.81) * dt
    vz += (-drag * vz + lift * (uz * ca + rz * sa)) * dt
    x += vx * dt
    y += vy * dt
    z += vz * dt
    apexM = Math.max(apexM, y)
  }
  return { carryM: Math.hypot(x, z), sideM: z, apexM, descentDeg: Math.atan2(-vy, Math.hypot(vx, vz)) / rad }
}
