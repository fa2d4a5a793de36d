import { windowWords } from './window-words.ts'

/** What a file of shot records does not tell by itself, and is asked. */
export const addShotsWords = windowWords({
  addShots: 'Add the shots',
  allUnderstood:
    'Everything else in the file was understood. Columns you leave as they are stay beside the shot, word for word.',
  areTwice: 'Rows that stand twice',
  askTwice:
    '{count, plural, one {One row says} other {# rows say}} the same as another, value for value ({count, plural, one {line} other {lines}} {lines}). {count, plural, one {Is it the same shot} other {Are they the same shots}} listed twice?',
  check: '{shots, plural, one {# shot} other {# shots}}: please check {what}',
  column: 'Column',
  columns: '{count, plural, one {one column} other {# columns}}',
  faultAtLine: 'Line {line}: {fault}',
  faultInColumn: 'Line {line}, {column}: {fault}',
  firstLines: '{lines} and {count} more',
  inUnit: 'In',
  itIs: 'It is',
  keepAsText: 'keep it as text',
  leaveOut: 'leave it out',
  looksLike: 'Looks like',
  moreLines: 'and {count, plural, one {# more line} other {# more lines}} like these',
  rowsTwice: '{count, plural, one {a row that stands twice} other {rows that stand twice}}',
  'target.at': 'date and time',
  'target.block': 'block',
  'target.club': 'club',
  'target.date': 'date',
  'target.shotNumber': 'number of the shot',
  'target.time': 'time of day',
  twiceAll: 'Shots of their own, take all',
  twiceOnce: 'The same, take once',
  unitOf: 'Unit of {column}',
  whatIs: 'What {column} is',
})
