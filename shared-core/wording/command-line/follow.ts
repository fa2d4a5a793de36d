import { windowWords } from '../window/window-words.ts'

/** Words of the command line: follow. */
export const followTexts = windowWords({
  // follow
  followMarkedPoint: 'follow a marked point through a clip, both ways from every mark (no library needed)',
  wherePointOnFrame: 'where the point is on a frame; may be given again',
  whatFollowedClubHead: 'what is followed: club head, hands, head, belt, ball, or your own word',
  firstFrame: 'first frame',
  lastFrame: 'last frame',
  scaleInPlanePlayer: 'scale in the plane of the player: speeds are then given',
  twoPlacesLookAlike: 'two places look alike',
  looksDifferentOrHidden: 'it looks different or is hidden',
  leavesPicture: 'it leaves the picture',
  movesTooFarFrom: 'it moves too far from one frame to the next',
  speedInPicture: 'speed in the picture',
  foundOnPlacesLast: 'Found on {places} of {last, plural, one {# frame} other {# frames}}.',
  lostAtFrameFrame: 'Lost at frame {frame}: {why}. Mark it there to go on.',
  oneCameraSeesOnly:
    'One camera sees only movement across its picture, at the depth where the scale was taken.',
})
