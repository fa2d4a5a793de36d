import { windowWords } from './window-words.ts'

/** Words of what works, across the coach’s students. */
export const worksWords = windowWords({
  // ForestPlot
  noInterval: 'no interval',
  fromTo: '{from} to {to}',
  changeOfEach: '{metric} with {label}, change of each student against the baseline',
  student: 'student',
  shots: 'shots',
  lessMore: 'less · more',
  changeUnit: 'change{unit}',
  interval95: '95 % interval',
  allTogether: 'all together',
  students: '{k, plural, one {# student} other {# students}}',
  oneStudentMore: 'one student more',
  ofLessons: ', {lessons, plural, one {# lesson} other {# lessons}}',

  // Works
  withMyStudents: 'with my students',
  names: 'Names',
  number: 'Number',
  ofStudentsAndClub:
    '{students, plural, one {# student} other {# students}}, the {club}. Each change is against the baseline of the same lessons.',
  nothingYet: 'Nothing to hold against each other yet',
  whatItTakes:
    'It takes blocks with a name, at least three shots in them and in the baseline, from {minStudents} students whose consent allows keeping. {students, plural, one {# such student} other {# such students}} so far{withoutConsent}.',
  withoutConsent: '; {students} without that consent',
  noneWithEnough: 'No focus or cue has {minStudents} students with {metric} recorded yet.',
  tooFew: 'Fewer than {minStudents} students, so nothing is said: {few}.',
  mind: 'Mind',
})
