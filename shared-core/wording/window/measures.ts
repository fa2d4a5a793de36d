import { windowWords } from './window-words.ts'

/** What the pictures give: tempo, body, followed points, and these by block. */
export const measuresWords = windowWords({
  allOfLesson: 'All of the lesson',
  block: 'block',
  body: 'Body',
  bodyCanCarry:
    'Read this swing’s body (above): its points carry hands and belt where they look different or are hidden, and the club is looked for from the hands outward.',
  bodyCarries:
    'Where hands or belt look different or are hidden, the body’s points carry them, within about 5 cm; the club is looked for from the hands outward.',
  bodyFold: 'Knee, head and pelvis, from the pictures',
  bodyHow: 'Read on this computer; it takes about half a minute a swing and holds nothing else up.',
  bodyNoNumbers: 'The body was read, but gives no numbers yet.',
  bodyTellsImpact:
    'The impact is unsure here. Reading the body may tell it: by when the hands come back to the ball.',
  byBlock: 'From the pictures, by block',
  byBlockNote:
    'Medians, with the number of swings. Whether a difference is more than chance stands among the findings, and only where it is sure.',
  cm: 'cm',
  deviceCounts: 'the device’s counts',
  deviceSays: 'The device says',
  followed: 'Followed points',
  followedPoint: 'The {point}',
  fromHints: 'Hints of tension, to look at on the picture: shoulders toward the ears, a bent lead elbow.',
  holdsOn:
    'Just before impact this point lies still: it holds on to the ball or the mat. Mark the club head again on a frame of the downswing.',
  lost: '{lost}.',
  noScale: 'Set a scale for its speed: draw a ruler on something of known length.',
  noSpeed: 'No speed is told from it.',
  noSpeedOnFrame: 'No speed on this frame: the point was not found on enough frames just before it.',
  noSpeedUpToImpact: 'No speed up to impact: the point was not found on enough frames just before it.',
  oneCamera:
    'One camera sees only movement across its picture, at the depth where the ruler was drawn: what is nearer looks faster, by up to a quarter, and that is in the ±. Draw the ruler at the ball for its speed.',
  overDevice: 'The picture says more, by',
  published:
    'Median {median}, middle half {q1} to {q3}, {p5} to {p95} for nine in ten ({swings} labelled tour swings).',
  read: 'Read this swing',
  reading: 'Reading…',
  remarks: '{place}; {count, plural, one {a remark} other {# remarks}}',
  selectWay: 'Select its way',
  'short.backswingSeconds': 'back',
  'short.braceBeforeImpactSeconds': 'brace before impact',
  'short.downswingSeconds': 'down',
  seenFromItsEnd:
    'Filmed along the line of the swing: at impact the club goes toward the camera or away from it, and the picture shows no speed of that. Film face on for it.',
  speedOnFrame: 'Speed in the picture, on this frame',
  speedUpToImpact: 'Speed in the picture, up to impact',
  stopFollowing: 'Stop following',
  tempo: 'Tempo',
  tempoAmong: '{ratio} to 1, {place}; published median {median}, middle half {q1} to {q3}',
  tempoComputing: 'Tempo is being computed…',
  tempoNeeds: 'Tempo is shown once takeaway, top and impact are marked.',
  underDevice: 'The picture says less, by',
  widths: 'widths',
})
