/** Kinematic viscosity of air at 15 °C, m²/s (ISO 2533, sea level). */
const airViscosityM2S = 1.461e-5

/**
 * Strouhal number of a smooth cylinder across the flow, at a Reynolds number from a few hundred to 2e5: 0.198 (1 − 19.7/Re)
 * (Blevins, Flow-Induced Vibration, 2nd ed., ch. 3; formula from memory). Strouhal himself found 0.185 (Ann. Phys. 241, 1878).
 */
export const strouhalNumber = (reynolds: number): number => 0.198 * (1 - 19.7 / Math.max(100, reynolds))

/** Tone of a cylinder, Hz: f = St · v / d. Speed m/s, diameter m. */
export const cylinderToneHz = (speedMps: number, diameterM: number): number =>
  (strouhalNumber((speedMps * diameterM) / airViscosityM2S) * speedMps) / diameterM

/** Speed across the air of a cylinder that sounds at `toneHz`, m/s; the inverse of {@link cylinderToneHz}. */
export const cylinderSpeedMps = (toneHz: number, diameterM: number): number => {
  let speed = (toneHz * diameterM) / 0.198
  // St hardly depends on the speed here, so this settles at once.
  for (let i = 0; i < 3; i++) {
    speed = (toneHz * diameterM) / strouhalNumber((speed * diameterM) / airViscosityM2S)
  }
  return speed
}
