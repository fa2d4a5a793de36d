import { windowWords } from './window-words.ts'

/** Cues: to tag one, those of a picture, those of each block. */
export const cuesWords = windowWords({
  addCue: 'Add a cue',
  atAGlance:
    '{club}, {shots, plural, one {# shot} other {# shots}}: efficiency {efficiency}, club {clubSpeed}, ball {ballSpeed}',
  cue: 'cue',
  cues: 'Cues',
  cuesByBlock: 'Cues by block',
  cuesOfBlock: 'Cues of this block',
  empty: 'What you saw, tagged on a moment of the swing.',
  focus: 'focus',
  means:
    'Strength is the mean over the swings tagged. Numbers are medians; that they moved together with a cue is not yet a cause.',
  none: 'no cues',
  noShots: 'no shots',
  noteOn: 'Note on {cue}',
  on: 'On',
  onlySeen: 'only seen',
  own: 'Or your own, kept for later',
  pinned: 'Pinned where you clicked on the picture.',
  remove: 'Remove the cue {cue}',
  strength: 'Strength',
  strengthOf: 'Strength of {cue}',
  strengthRange: 'strength, 0–3',
  'strength.0': 'seen',
  'strength.1': 'slight',
  'strength.2': 'clear',
  'strength.3': 'strong',
  swings: 'swings',
  thisFrame: 'this frame ({frame})',
})
