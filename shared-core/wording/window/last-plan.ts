import { windowWords } from './window-words.ts'

/** Words of the last plan, asked for on the Desk and in the hand-over. */
export const lastPlanWords = windowWords({
  // LastPlan
  title: 'The last plan, {date}',
  howDidItGo: 'How did it go? Ask {name}',
  howDidItGoHint: 'What was done, how often, what was hard, whether anything hurt',
  carryOver: 'Carry these over into the new plan',

  // LastPlanAsk
  lastPlan: 'The last plan',
  planOf: 'Last plan, {date}:',
  ownItem: 'an item of your own',
  howDidGoAskStudentName: 'How did it go? Ask {studentName}',
})
