import { ballRadiusM } from './swing-motion.ts'
import type { Joints, SwingSpec } from './swing-motion.ts'
import { add, along, cross, mix, scale, squareTo, sub, unit } from './vector.ts'
import type { Vec3 } from './vector.ts'

export type Colour = readonly [red: number, green: number, blue: number]

/**
 * A volume to draw: a cone between two balls of given radii, or an ellipsoid with three half axes. `seam` below 1
 * shades an ellipsoid as if stretched along its second axis, so that a row of them looks like one smooth body.
 */
export type Volume =
  | {
      kind: 'limb'
      from: Vec3
      to: Vec3
      fromRadiusM: number
      toRadiusM: number
      colour: Colour
      shine?: number
    }
  | {
      kind: 'ellipsoid'
      centre: Vec3
      axes: readonly [Vec3, Vec3, Vec3]
      radiiM: Vec3
      colour: Colour
      shine?: number
      seam?: number
    }

/** Colours of the figure's clothes, 0 to 1. */
export type Outfit = { shirt: Colour; trousers: Colour; cap: Colour; shoes: Colour }

const skin: Colour = [0.8, 0.58, 0.45]
const hair: Colour = [0.2, 0.13, 0.09]
const glove: Colour = [0.92, 0.92, 0.9]
const steel: Colour = [0.66, 0.68, 0.71]
const rubber: Colour = [0.09, 0.09, 0.1]
const headBlack: Colour = [0.1, 0.11, 0.14]

const limb = (from: Vec3, to: Vec3, fromRadiusM: number, toRadiusM: number, colour: Colour): Volume => ({
  kind: 'limb',
  from,
  to,
  fromRadiusM,
  toRadiusM,
  colour,
})

/** Stations of the trunk from the pelvis (0) to the shoulders (1): place, half width, half height, half depth. */
const trunkStations = [
  [0.2, 0.152, 0.12, 0.118],
  [0.33, 0.149, 0.13, 0.115],
  [0.46, 0.153, 0.14, 0.117],
  [0.59, 0.163, 0.15, 0.122],
  [0.72, 0.176, 0.15, 0.126],
  [0.82, 0.172, 0.12, 0.118],
] as const

/** The trunk twists from the pelvis' line to the shoulders'. */
const trunk = (j: Joints, colour: Colour): Volume[] =>
  trunkStations.map(([place, across, high, deep]) => {
    const side = squareTo(unit(mix(j.pelvisLead, j.chestLead, place)), j.spine)
    return {
      kind: 'ellipsoid',
      centre: mix(j.pelvis, j.hub, place),
      axes: [side, j.spine, cross(side, j.spine)],
      radiiM: [across, high, deep],
      colour,
      seam: 0.15,
    }
  })

/** The player's body as volumes, in world coordinates. */
export const bodyVolumes = (j: Joints, outfit: Outfit): Volume[] => {
  const pelvisForward = cross(j.pelvisLead, [0, 1, 0])
  const up: Vec3 = [0, 1, 0]
  const headUp = squareTo(sub(j.head, j.hub), j.headForward)
  const headSide = cross(headUp, j.headForward)
  const capCentre = along(along(j.head, headUp, 0.035), j.headForward, -0.008)
  const parts: Volume[] = []
  for (const side of ['lead', 'trail'] as const) {
    const hip = side === 'lead' ? j.leadHip : j.trailHip
    const knee = side === 'lead' ? j.leadKnee : j.trailKnee
    const ankle = side === 'lead' ? j.leadAnkle : j.trailAnkle
    const toe = side === 'lead' ? j.leadToe : j.trailToe
    const foot = unit(sub(toe, ankle))
    const level = unit([foot[0], Math.min(0, foot[1] + 0.28), foot[2]])
    const heel = along(add(ankle, [0, -0.045, 0]), level, -0.03)
    parts.push(
      limb(hip, knee, 0.093, 0.062, outfit.trousers),
      limb(knee, mix(knee, ankle, 0.4), 0.061, 0.06, outfit.trousers),
      limb(mix(knee, ankle, 0.4), along(ankle, sub(ankle, knee), -0.03), 0.06, 0.045, outfit.trousers),
      limb(ankle, along(ankle, sub(knee, ankle), 0.1), 0.034, 0.034, [0.93, 0.93, 0.93]),
      limb(heel, toe, 0.042, 0.034, outfit.shoes),
      limb(along(heel, up, -0.025), along(toe, up, -0.018), 0.03, 0.026, [0.88, 0.88, 0.86]),
    )
    const shoulder = side === 'lead' ? j.leadShoulder : j.trailShoulder
    const elbow = side === 'lead' ? j.leadElbow : j.trailElbow
    const hand = side === 'lead' ? j.leadHand : j.trailHand
    const wrist = along(hand, unit(sub(elbow, hand)), 0.05)
    const sleeveEnd = mix(shoulder, elbow, 0.62)
    parts.push(
      limb(shoulder, sleeveEnd, 0.067, 0.056, outfit.shirt),
      limb(sleeveEnd, elbow, 0.043, 0.04, skin),
      limb(elbow, mix(elbow, wrist, 0.35), 0.041, 0.042, skin),
      limb(mix(elbow, wrist, 0.35), wrist, 0.042, 0.028, skin),
      limb(wrist, along(hand, j.shaft, -0.015), 0.029, 0.036, side === 'lead' ? glove : skin),
      limb(
        along(hand, j.shaft, -0.03),
        along(hand, j.shaft, 0.03),
        0.035,
        0.033,
        side === 'lead' ? glove : skin,
      ),
    )
    parts.push(limb(along(j.hub, j.spine, -0.055), shoulder, 0.085, 0.064, outfit.shirt))
  }
  parts.push(
    {
      kind: 'ellipsoid',
      centre: along(along(j.pelvis, up, -0.005), pelvisForward, -0.02),
      axes: [j.pelvisLead, up, pelvisForward],
      radiiM: [0.168, 0.135, 0.122],
      colour: outfit.trousers,
    },
    ...trunk(j, outfit.shirt),
    limb(along(j.hub, j.spine, -0.02), along(j.head, headUp, -0.05), 0.064, 0.056, skin),
    limb(along(j.hub, j.spine, 0.035), mix(j.hub, j.leadShoulder, 0.6), 0.062, 0.058, outfit.shirt),
    limb(along(j.hub, j.spine, 0.035), mix(j.hub, j.trailShoulder, 0.6), 0.062, 0.058, outfit.shirt),
    {
      kind: 'ellipsoid',
      centre: j.head,
      axes: [headSide, headUp, j.headForward],
      radiiM: [0.076, 0.112, 0.096],
      colour: skin,
    },
    limb(
      along(j.head, j.headForward, 0.09),
      along(along(j.head, j.headForward, 0.1), headUp, -0.022),
      0.012,
      0.015,
      skin,
    ),
    {
      kind: 'ellipsoid',
      centre: along(along(j.head, j.headForward, -0.026), headUp, 0.0),
      axes: [headSide, headUp, j.headForward],
      radiiM: [0.08, 0.098, 0.082],
      colour: hair,
    },
    {
      kind: 'ellipsoid',
      centre: capCentre,
      axes: [headSide, headUp, j.headForward],
      radiiM: [0.085, 0.09, 0.104],
      colour: outfit.cap,
    },
    {
      kind: 'ellipsoid',
      centre: along(along(capCentre, j.headForward, 0.098), headUp, -0.005),
      axes: [headSide, unit(along(headUp, j.headForward, 0.2)), unit(along(j.headForward, headUp, -0.2))],
      radiiM: [0.068, 0.011, 0.058],
      colour: outfit.cap,
    },
  )
  return parts
}

/** The club as volumes. */
export const clubVolumes = (j: Joints, club: SwingSpec['club']): Volume[] => {
  const grip = j.leadHand
  const hosel = along(j.face, j.clubToe, -0.035)
  const faceNormal = unit(cross(j.shaft, j.clubToe))
  const parts: Volume[] = [
    limb(along(grip, j.shaft, -0.07), along(grip, j.shaft, 0.17), 0.014, 0.011, rubber),
    { ...limb(along(grip, j.shaft, 0.17), hosel, 0.0075, 0.0065, steel), shine: 0.5 },
  ]
  if (club === 'driver') {
    parts.push({
      kind: 'ellipsoid',
      centre: along(along(j.face, faceNormal, 0.042), j.clubToe, 0.008),
      axes: [j.clubToe, j.shaft, faceNormal],
      radiiM: [0.062, 0.034, 0.056],
      colour: headBlack,
      shine: 0.6,
    })
  } else {
    parts.push(
      { ...limb(hosel, along(hosel, j.shaft, -0.05), 0.011, 0.009, steel), shine: 0.7 },
      {
        kind: 'ellipsoid',
        centre: along(j.face, faceNormal, 0.012),
        axes: [j.clubToe, j.shaft, faceNormal],
        radiiM: [0.044, 0.03, 0.013],
        colour: steel,
        shine: 0.7,
      },
    )
  }
  return parts
}

/** The ball; the tee under it stays when it has gone. */
export const ballVolume = (centre: Vec3): Volume =>
  limb(centre, along(centre, [1, 0, 0], 1e-4), ballRadiusM, ballRadiusM, [0.98, 0.98, 0.96])

/** Things that stand on the mat: the tee and the stick that shows the target line. */
export const matVolumes = (club: SwingSpec['club'], ballRest: Vec3): Volume[] => {
  const parts: Volume[] = [limb([-0.75, 0.008, 0.2], [0.5, 0.008, 0.2], 0.007, 0.007, [0.95, 0.45, 0.12])]
  if (club === 'driver') {
    const under = ballRest[1] - ballRadiusM
    parts.push(
      limb([ballRest[0], 0, ballRest[2]], [ballRest[0], under, ballRest[2]], 0.006, 0.008, [0.9, 0.25, 0.2]),
    )
  }
  return parts
}

/** World direction towards the sun. */
export const toSun: Vec3 = unit([-0.42, 1, 0.5])

/** Where a volume's shadow falls on the ground: two points with radii. */
export const shadowOf = (v: Volume): { from: Vec3; to: Vec3; fromRadiusM: number; toRadiusM: number } => {
  const fall = (p: Vec3): Vec3 => along(p, toSun, -p[1] / toSun[1])
  if (v.kind === 'limb') {
    return { from: fall(v.from), to: fall(v.to), fromRadiusM: v.fromRadiusM, toRadiusM: v.toRadiusM }
  }
  const longest = v.radiiM[1] > v.radiiM[0] ? 1 : 0
  const radius = (v.radiiM[0] + v.radiiM[1] + v.radiiM[2]) / 3
  const stretch = scale(v.axes[longest], Math.max(0, v.radiiM[longest] - radius))
  return {
    from: fall(add(v.centre, stretch)),
    to: fall(sub(v.centre, stretch)),
    fromRadiusM: radius,
    toRadiusM: radius,
  }
}
