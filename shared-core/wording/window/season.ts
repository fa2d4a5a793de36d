import { windowWords } from './window-words.ts'

/** Words of a student’s season. */
export const seasonWords = windowWords({
  // Season
  inStudentsWords: 'In the student’s words',
  beingComputed: 'The season is being computed…',
  noNumbersYet: 'No numbers yet',
  addShotRecords:
    'Add shot records to a lesson; every lesson with numbers becomes a point of the season. A trend is spoken of from five lessons on.',
  levelsWithClub: 'Levels with the {club}',
  dots: 'Dots: the middle of a lesson’s shots.',
  line: 'Line: the level with luck taken out. Dashed: a trend, where one was found.',
  whatSeasonSays: 'What the season says',
  keptEarlier: 'Kept from lesson to lesson, earlier',
  keptOf: '{shownOn}: what was still there of {gainedOn}',
  plansAndAfter: 'Practice plans and what came after',
  outcome: 'How it went: {outcome}',
  noOutcome: 'How it went is not written down; the hand-over of the next lesson asks for it.',
  noNumbersToHold:
    'No numbers to hold against it yet: it takes shots with the {club} in this lesson and in a later one.',
  sameClub: 'same club',
  lessons: 'Lessons',
  planUntilNext: 'Plan until the next one',
  none: 'none',

  // Stills
  picturesOverTime: 'Pictures over time',
  whatPicturesShow: 'What the pictures show',
  openStill: '{kind}, {date}: open the lesson',

  // level-chart
  ofShots: ', {shots, plural, one {# shot} other {# shots}}',
  metricOverLessons: '{metric} over {lessons, plural, one {# lesson} other {# lessons}}: {levels}',
  notRecorded: 'not recorded',
})
