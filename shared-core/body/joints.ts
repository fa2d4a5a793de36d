/** The seventeen points of a body, in the order the model gives them; left and right are the player's own. */
export const jointNames = [
  'nose',
  'leftEye',
  'rightEye',
  'leftEar',
  'rightEar',
  'leftShoulder',
  'rightShoulder',
  'leftElbow',
  'rightElbow',
  'leftWrist',
  'rightWrist',
  'leftHip',
  'rightHip',
  'leftKnee',
  'rightKnee',
  'leftAnkle',
  'rightAnkle',
] as const
export type JointName = (typeof jointNames)[number]
/** Joints of one frame, in the order of `jointNames`. */
export const jointCount = jointNames.length
/** Where a joint stands among those of a frame, from 0. */
export const jointIndex = (name: JointName): number => jointNames.indexOf(name)

/** Joints that there are two of; the player's side is put before the name. */
export type SidedJoint = 'Shoulder' | 'Elbow' | 'Wrist' | 'Hip' | 'Knee' | 'Ankle' | 'Ear'

/** Index of the lead or trail joint: a right-handed player leads with the left. */
export const sidedIndex = (
  part: SidedJoint,
  which: 'lead' | 'trail',
  playingSide: 'right' | 'left',
): number =>
  jointIndex(`${(which === 'lead') === (playingSide === 'right') ? 'left' : 'right'}${part}` as JointName)

/** Bones to draw between joints. */
export const bones: readonly (readonly [JointName, JointName])[] = [
  ['leftShoulder', 'rightShoulder'],
  ['leftHip', 'rightHip'],
  ['leftShoulder', 'leftHip'],
  ['rightShoulder', 'rightHip'],
  ['leftShoulder', 'leftElbow'],
  ['leftElbow', 'leftWrist'],
  ['rightShoulder', 'rightElbow'],
  ['rightElbow', 'rightWrist'],
  ['leftHip', 'leftKnee'],
  ['leftKnee', 'leftAnkle'],
  ['rightHip', 'rightKnee'],
  ['rightKnee', 'rightAnkle'],
]
