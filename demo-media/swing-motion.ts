import { keyCurve } from './key-curve.ts'
import { add, along, angleDeg, cross, dot, length, mix, scale, squareTo, sub, turn, unit } from './vector.ts'
import type { Vec3 } from './vector.ts'

/** What distinguishes one swing of the figure from another. Times are seconds, right-handed player. */
export type SwingSpec = {
  club: 'driver' | '7-iron'
  clubSpeedMps: number
  backswingSeconds: number
  downswingSeconds: number
  /** Lead-knee angle at impact (180 = straight). */
  leadKneeAtImpactDeg: number
  /** How long before impact the hips stop moving towards the target. */
  braceBeforeImpactSeconds: number
  /** Pelvis towards the target at the brace, from setup. */
  pelvisShiftM: number
  /** Further slide of the pelvis from the brace to impact. */
  pelvisSlideM: number
  /** Upper-body centre at impact relative to setup, + towards the target. */
  upperBodyDriftM: number
  /** Raised, tight shoulders: 0 relaxed … 1 hunched. */
  shoulderTension: number
  ballSpeedMps: number
  launchDeg: number
  launchDirectionDeg: number
}

/** The moments, in seconds from the takeaway. */
export type SwingMoments = {
  setup: number
  takeaway: number
  top: number
  brace: number
  impact: number
  release: number
  finish: number
}

/** The figure's degrees of freedom at one instant; blending two of these blends two postures. */
export type Posture = {
  shoulderTurnDeg: number
  pelvisTurnDeg: number
  pelvisXM: number
  pelvisZM: number
  hubXM: number
  leanDeg: number
  leadKneeDeg: number
  armDeg: number
  cockDeg: number
  clubRollDeg: number
  reach: number
  atBall: number
  trailHeel: number
  look: number
  shrugM: number
}

export type Joints = {
  pelvis: Vec3
  hub: Vec3
  spine: Vec3
  pelvisLead: Vec3
  chestLead: Vec3
  chestForward: Vec3
  head: Vec3
  headForward: Vec3
  leadShoulder: Vec3
  leadElbow: Vec3
  leadHand: Vec3
  trailShoulder: Vec3
  trailElbow: Vec3
  trailHand: Vec3
  leadHip: Vec3
  leadKnee: Vec3
  leadAnkle: Vec3
  leadToe: Vec3
  trailHip: Vec3
  trailKnee: Vec3
  trailAnkle: Vec3
  trailToe: Vec3
  shaft: Vec3
  clubToe: Vec3
  /** Middle of the club face. */
  face: Vec3
}

export type SwingMotion = {
  spec: SwingSpec
  moments: SwingMoments
  postureAt: (t: number) => Posture
  jointsAt: (t: number) => Joints
  /** Joints for any posture, with this swing's place on the mat. */
  jointsOf: (posture: Posture) => Joints
  clubSpeedAt: (t: number) => number
  ballRest: Vec3
  ballAt: (t: number) => Vec3
}

export const ballRadiusM = 0.02134

const body = {
  thighM: 0.43,
  shankM: 0.43,
  ankleM: 0.085,
  hipHalfM: 0.092,
  spineM: 0.5,
  shoulderHalfM: 0.185,
  upperArmM: 0.295,
  forearmM: 0.325,
  headM: 0.2,
}

const clubs = {
  driver: { gripToFaceM: 1.05, restM: 0.052, stanceM: 0.46, armTopDeg: 131, cockTopDeg: 112, turnTopDeg: 90 },
  '7-iron': {
    gripToFaceM: 0.85,
    restM: ballRadiusM + 0.001,
    stanceM: 0.36,
    armTopDeg: 122,
    cockTopDeg: 106,
    turnTopDeg: 84,
  },
} as const

const rad = Math.PI / 180
/** Inclination of the plane the hands move in; the club's own plane is flatter and follows from its length. */
const armPlaneDeg = 64

/** Middle joint of a two-bone limb; the far end is pulled in when out of reach. */
const bend = (from: Vec3, to: Vec3, firstM: number, secondM: number, pole: Vec3): [Vec3, Vec3] => {
  const reach = Math.min(length(sub(to, from)), (firstM + secondM) * 0.9995)
  const axis = unit(sub(to, from))
  const a = (firstM * firstM - secondM * secondM + reach * reach) / (2 * reach)
  const h = Math.sqrt(Math.max(0, firstM * firstM - a * a))
  return [along(along(from, axis, a), squareTo(pole, axis), h), along(from, axis, reach)]
}

/** Farthest point on the ray from `origin` along the unit `direction` within `reachM` of `shoulder`. */
const reachAlong = (origin: Vec3, direction: Vec3, shoulder: Vec3, reachM: number): number => {
  const o = sub(origin, shoulder)
  const b = dot(o, direction)
  return -b + Math.sqrt(Math.max(0, b * b - dot(o, o) + reachM * reachM))
}

const softMin = (a: number, b: number): number => {
  const k = 45
  return Math.min(a, b) - Math.log(1 + Math.exp(-k * Math.abs(a - b))) / k
}

type Place = { clubPlaneDeg: number; offset: Vec3; setupShift: Vec3 }

const solveJoints = (spec: SwingSpec, p: Posture, place: Place): Joints => {
  const club = clubs[spec.club]
  const half = club.stanceM / 2
  // Legs: the lead-knee angle sets how far the lead hip is from its ankle, and with it the height of the pelvis.
  const leadAnkle: Vec3 = [half, body.ankleM, 0]
  const pelvisLead: Vec3 = turn([1, 0, 0], [0, 1, 0], -p.pelvisTurnDeg * rad)
  const hipRise = 0.012 * p.trailHeel
  const legM = Math.sqrt(
    body.thighM ** 2 + body.shankM ** 2 - 2 * body.thighM * body.shankM * Math.cos(p.leadKneeDeg * rad),
  )
  const leadHipX = p.pelvisXM + pelvisLead[0] * body.hipHalfM
  const leadHipZ = p.pelvisZM + pelvisLead[2] * body.hipHalfM
  const leadHipY = body.ankleM + Math.sqrt(Math.max(0.2, legM ** 2 - (leadHipX - half) ** 2 - leadHipZ ** 2))
  const leadHip: Vec3 = [leadHipX, leadHipY, leadHipZ]
  const pelvis: Vec3 = [p.pelvisXM, leadHipY - hipRise, p.pelvisZM]
  const trailHip: Vec3 = [
    p.pelvisXM - pelvisLead[0] * body.hipHalfM,
    leadHipY - 2 * hipRise,
    p.pelvisZM - pelvisLead[2] * body.hipHalfM,
  ]
  const pelvisForward = cross(pelvisLead, [0, 1, 0])
  const leadToeDir: Vec3 = unit([0.32, 0, 1])
  const leadToe = add([leadAnkle[0], 0.035, leadAnkle[2]], scale(leadToeDir, 0.17))
  const trailToe: Vec3 = [-half - 0.02 + 0.05 * p.trailHeel, 0.035, 0.165]
  const flatDir: Vec3 = unit([-0.12, 0, 1])
  const tipDir: Vec3 = unit([0.62, -1.0, 0.42])
  const footDir = unit(mix(flatDir, tipDir, p.trailHeel))
  const trailAnkleWish = add(along(trailToe, footDir, -0.17), [0, 0.05 * (1 - 0.35 * p.trailHeel), 0])
  const leadKneePole = unit(mix([0.25, 0, 1], pelvisForward, 0.35))
  const trailKneePole = unit(mix([-0.12, 0, 1], pelvisForward, 0.3 + 0.45 * p.trailHeel))
  const [leadKnee] = bend(leadHip, leadAnkle, body.thighM, body.shankM, leadKneePole)
  const [trailKnee, trailAnkle] = bend(trailHip, trailAnkleWish, body.thighM, body.shankM, trailKneePole)

  // Trunk: spine from pelvis to the hub between the shoulders.
  const leanZ = Math.sin(p.leanDeg * rad) * body.spineM
  const leanX = p.hubXM - p.pelvisXM
  const hub: Vec3 = [
    p.hubXM,
    pelvis[1] + Math.sqrt(body.spineM ** 2 - leanZ ** 2 - leanX ** 2),
    p.pelvisZM + leanZ,
  ]
  const spine = unit(sub(hub, pelvis))
  const chestLead = turn(squareTo([1, 0, 0], spine), spine, -p.shoulderTurnDeg * rad)
  const chestForward = cross(chestLead, spine)
  const shoulderBase = along(along(hub, spine, -0.035 + p.shrugM), chestForward, 0.02)
  const leadShoulder = along(shoulderBase, chestLead, body.shoulderHalfM)
  const trailShoulder = along(shoulderBase, chestLead, -body.shoulderHalfM)
  const head = along(hub, unit(mix(spine, [0, 1, 0], 0.25)), body.headM)

  // Hands and club: angles in two inclined planes, measured from straight down, + on the backswing side.
  const armDown: Vec3 = [0, -Math.sin(armPlaneDeg * rad), Math.cos(armPlaneDeg * rad)]
  const clubDown: Vec3 = [0, -Math.sin(place.clubPlaneDeg * rad), Math.cos(place.clubPlaneDeg * rad)]
  const inPlane = (down: Vec3, deg: number): Vec3 =>
    add(scale(down, Math.cos(deg * rad)), [-Math.sin(deg * rad), 0, 0])
  const arm = inPlane(armDown, p.armDeg)
  const clubDeg = p.armDeg + p.cockDeg
  const shaft = inPlane(clubDown, clubDeg)
  const armM = (body.upperArmM + body.forearmM) * 0.985
  const reach = softMin(
    reachAlong(shoulderBase, arm, leadShoulder, armM),
    reachAlong(shoulderBase, arm, along(trailShoulder, shaft, -0.075), armM),
  )
  const hands = add(along(shoulderBase, arm, reach * p.reach), scale(place.setupShift, p.atBall))
  const [leadElbow, leadHand] = bend(
    leadShoulder,
    hands,
    body.upperArmM,
    body.forearmM,
    unit(add([0, -1, 0], scale(chestLead, 0.35))),
  )
  const [trailElbow, trailHand] = bend(
    trailShoulder,
    along(hands, shaft, 0.075),
    body.upperArmM,
    body.forearmM,
    unit(add([0, -1, 0], scale(chestLead, -0.3))),
  )
  const planeUp: Vec3 = [0, Math.cos(place.clubPlaneDeg * rad), Math.sin(place.clubPlaneDeg * rad)]
  const planeAcross = inPlane(clubDown, clubDeg + 90)
  const clubToe = add(
    scale(planeUp, Math.cos(p.clubRollDeg * rad)),
    scale(planeAcross, Math.sin(p.clubRollDeg * rad)),
  )
  const face = along(along(hands, shaft, club.gripToFaceM), clubToe, 0.035)
  // The eyes look down to the ball; the head itself is bent less.
  const atBallDir = unit(add(unit([0.05 - head[0], -head[1], 0.95 - head[2]]), [0, 0.42, 0.12]))
  const headForward = unit(mix(atBallDir, [0.97, -0.06, 0.2], p.look))
  const move = (v: Vec3): Vec3 => add(v, place.offset)
  return {
    pelvis: move(pelvis),
    hub: move(hub),
    spine,
    pelvisLead,
    chestLead,
    chestForward,
    head: move(head),
    headForward,
    leadShoulder: move(leadShoulder),
    leadElbow: move(leadElbow),
    leadHand: move(leadHand),
    trailShoulder: move(trailShoulder),
    trailElbow: move(trailElbow),
    trailHand: move(trailHand),
    leadHip: move(leadHip),
    leadKnee: move(leadKnee),
    leadAnkle: move(leadAnkle),
    leadToe: move(leadToe),
    trailHip: move(trailHip),
    trailKnee: move(trailKnee),
    trailAnkle: move(trailAnkle),
    trailToe: move(trailToe),
    shaft,
    clubToe,
    face: move(face),
  }
}

/** Posture curves for a given lateness of the wrists' release (`releasePower`, larger is later and faster). */
const postures = (spec: SwingSpec, moments: SwingMoments, releasePower: number): ((t: number) => Posture) => {
  const { top, impact, finish, brace } = moments
  const club = clubs[spec.club]
  const driver = spec.club === 'driver'
  const down = spec.downswingSeconds
  const armImpactDeg = driver ? -10 : -8
  const cockImpactDeg = driver ? 7.5 : 10
  const armSpan = club.armTopDeg - armImpactDeg
  const cockSpan = club.cockTopDeg - cockImpactDeg
  // The arms are fastest at 70 % of the downswing and slow while the wrists let the club go: proximal first.
  const armEndSlope = 1.12
  const armDown = (s: number): number =>
    club.armTopDeg - armSpan * ((3 - armEndSlope) * s * s + (armEndSlope - 2) * s ** 3)
  const cockDown = (s: number): number => club.cockTopDeg - cockSpan * s ** releasePower
  const armRate = (-armSpan * armEndSlope) / down
  const cockRate = (-cockSpan * releasePower) / down
  const armBack = keyCurve([
    [0, driver ? -4 : -5],
    [top * 0.5, 44],
    [top, club.armTopDeg],
  ])
  const armAfter = keyCurve([
    [impact, armImpactDeg, armRate],
    [impact + 0.1, armImpactDeg + armRate * 0.1 * 0.92],
    [finish, -152],
  ])
  const cockBack = keyCurve([
    [0, driver ? 4 : 5],
    [top * 0.28, 8],
    [top * 0.62, 62],
    [top, club.cockTopDeg],
  ])
  const cockAfter = keyCurve([
    [impact, cockImpactDeg, cockRate],
    [impact + 0.075, cockImpactDeg + cockRate * 0.075 * 0.5],
    [impact + 0.26, -76],
    [finish, -134],
  ])
  const shoulderTurnDeg = keyCurve([
    [0, 0],
    [top * 0.98, club.turnTopDeg],
    [impact, -24],
    [impact + 0.14, -58],
    [finish, -112],
  ])
  const pelvisTurnDeg = keyCurve([
    [0, 0],
    [top - 0.06, driver ? 43 : 38],
    [impact, -36],
    [finish, -86],
  ])
  const braceX = spec.pelvisShiftM
  const impactX = braceX + spec.pelvisSlideM
  const pelvisXM = keyCurve([
    [0, 0.005],
    [top - 0.12, -0.03],
    [brace, braceX],
    [impact + 0.02, impactX],
    [finish - 0.1, Math.max(0.165, impactX + 0.02)],
  ])
  const hubSetup = driver ? -0.035 : -0.01
  const hubXM = keyCurve([
    [0, hubSetup],
    [top, hubSetup - 0.022],
    [impact, hubSetup + spec.upperBodyDriftM],
    [impact + 0.12, hubSetup + spec.upperBodyDriftM + 0.02],
    [finish, 0.13],
  ])
  const pelvisZM = keyCurve([
    [0, -0.13],
    [top, -0.125],
    [impact, -0.085],
    [finish, -0.03],
  ])
  const leanDeg = keyCurve([
    [0, driver ? 32 : 35],
    [top, driver ? 32 : 35],
    [impact, driver ? 29 : 33],
    [impact + 0.16, 23],
    [finish, 3],
  ])
  const knee = spec.leadKneeAtImpactDeg
  const leadKneeDeg = keyCurve([
    [0, 157],
    [top - 0.04, 146],
    [impact - Math.max(0.06, spec.braceBeforeImpactSeconds + 0.035), 148],
    [impact, knee],
    [impact + 0.12, Math.min(174, knee + 8)],
    [finish, 175],
  ])
  const clubRollDeg = keyCurve([
    [0, 0],
    [top * 0.5, 62],
    [top, 84],
    [top + down * 0.7, 70],
    [impact, 0, -1500],
    [impact + 0.09, -75],
    [finish, -95],
  ])
  const reach = keyCurve([
    [0, 0.965],
    [top * 0.35, 1],
    [impact + 0.16, 1],
    [finish, 0.6],
  ])
  const atBall = keyCurve([
    [0, 1],
    [top * 0.5, 0],
  ])
  const trailHeel = keyCurve([
    [top, 0],
    [impact, 0.2],
    [finish, 1],
  ])
  const look = keyCurve([
    [impact + 0.06, 0],
    [finish - 0.1, 1],
  ])
  const shrugM = keyCurve([
    [0, 0.008 + 0.022 * spec.shoulderTension],
    [top, 0.012 + 0.034 * spec.shoulderTension],
    [impact, 0.01 + 0.03 * spec.shoulderTension],
    [finish, 0.01],
  ])
  return (t) => ({
    shoulderTurnDeg: shoulderTurnDeg(t),
    pelvisTurnDeg: pelvisTurnDeg(t),
    pelvisXM: pelvisXM(t),
    pelvisZM: pelvisZM(t),
    hubXM: hubXM(t),
    leanDeg: leanDeg(t),
    leadKneeDeg: leadKneeDeg(t),
    armDeg: t <= top ? armBack(t) : t <= impact ? armDown((t - top) / down) : armAfter(t),
    cockDeg: t <= top ? cockBack(t) : t <= impact ? cockDown((t - top) / down) : cockAfter(t),
    clubRollDeg: clubRollDeg(t),
    reach: reach(t),
    atBall: atBall(t),
    trailHeel: trailHeel(t),
    look: look(t),
    shrugM: shrugM(t),
  })
}

const bisect = (f: (x: number) => number, lo: number, hi: number): number => {
  for (let i = 0; i < 60; i++) {
    const mid = (lo + hi) / 2
    if (f(lo) > 0 === f(mid) > 0) lo = mid
    else hi = mid
  }
  return (lo + hi) / 2
}

/**
 * The motion of one swing. The wrists' release is solved so that the middle of the face moves at the shot's club
 * speed when it meets the ball; the figure is placed so that it meets the ball at the origin.
 */
export const swingMotion = (spec: SwingSpec): SwingMotion => {
  const club = clubs[spec.club]
  const top = spec.backswingSeconds
  const impact = top + spec.downswingSeconds
  const moments: SwingMoments = {
    setup: -0.12,
    takeaway: 0,
    top,
    brace: impact - spec.braceBeforeImpactSeconds,
    impact,
    release: impact + 0.07,
    finish: impact + 0.72,
  }
  const ballRest: Vec3 = [0, club.restM, 0]
  const build = (releasePower: number) => {
    const postureAt = postures(spec, moments, releasePower)
    const zero: Vec3 = [0, 0, 0]
    const atImpact = postureAt(impact)
    // Lie: the club's plane is as steep as it must be for the face to come down to the ball.
    const clubPlaneDeg = bisect(
      (deg) =>
        solveJoints(spec, atImpact, { clubPlaneDeg: deg, offset: zero, setupShift: zero }).face[1] -
        ballRest[1],
      30,
      80,
    )
    const bare: Place = { clubPlaneDeg, offset: zero, setupShift: zero }
    const face = solveJoints(spec, atImpact, bare).face
    const offset: Vec3 = [-ballRadiusM - 0.004 - face[0], 0, -face[2]]
    const faceAtSetup = solveJoints(spec, postureAt(0), { ...bare, offset }).face
    const wanted: Vec3 = [-0.055, spec.club === 'driver' ? 0.036 : 0.022, 0.004]
    const place: Place = { clubPlaneDeg, offset, setupShift: sub(wanted, faceAtSetup) }
    const jointsOf = (posture: Posture): Joints => solveJoints(spec, posture, place)
    const jointsAt = (t: number): Joints => jointsOf(postureAt(t))
    const speedBetween = (a: number, b: number): number =>
      length(sub(jointsAt(b).face, jointsAt(a).face)) / (b - a)
    return { postureAt, jointsOf, jointsAt, speedBetween, place }
  }
  const power = bisect((p) => build(p).speedBetween(impact - 2e-4, impact) - spec.clubSpeedMps, 1.2, 9)
  const built = build(power)
  // Release: the shaft is level again after impact.
  const level = bisect((t) => built.jointsAt(t).shaft[1], impact + 0.001, impact + 0.2)
  const launch = spec.launchDeg * rad
  const line = spec.launchDirectionDeg * rad
  // + start line is to the right of the target line seen from behind the ball, which is +z here.
  const away: Vec3 = scale(
    [Math.cos(launch) * Math.cos(line), Math.sin(launch), Math.cos(launch) * Math.sin(line)],
    spec.ballSpeedMps,
  )
  return {
    spec,
    moments: { ...moments, release: level },
    postureAt: built.postureAt,
    jointsOf: built.jointsOf,
    jointsAt: built.jointsAt,
    clubSpeedAt: (t) => built.speedBetween(t - 1e-4, t + 1e-4),
    ballRest,
    ballAt: (t) => {
      const s = Math.max(0, t - impact)
      return add(along(ballRest, away, s), [0, -4.9 * s * s, 0])
    },
  }
}

/** Lead-knee angle of the joints, degrees: hip, knee, ankle. */
export const leadKneeAngleDeg = (j: Joints): number => angleDeg(j.leadHip, j.leadKnee, j.leadAnkle)
