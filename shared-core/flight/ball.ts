/**
 * The ball of the rules: R&A/USGA Equipment Rules Part 4, most 1.620 oz av., least 1.680 in (found at the
 * source). Solid sphere: moment of inertia 0.4 m r².
 */
export const ballMassKg = 0.04593

/** Half the smallest diameter that the rules of golf allow, 1.680 in = 42.67 mm (Equipment Rules, part 4). */
export const ballRadiusM = 0.021335

/** Cross-section of the ball, m². */
export const ballAreaM2 = Math.PI * ballRadiusM ** 2
/** Standard gravity, exact. */
export const gravityMps2 = 9.80665
