/**
 * What a student reads, in English, as ICU messages (Unicode ICU MessageFormat). The keys of this list are the keys of every
 * language; the names in braces, too (tests/shared-core/wording).
 */
export const en = {
  // How sure.
  sure: 'We are sure of this.',
  tooEarly: 'It is too soon to tell.',

  // What a number is to a student, as the subject of a sentence.
  'what.efficiency': 'how well you hit the ball',
  'what.clubSpeed': 'your club speed',
  'what.ballSpeed': 'your ball speed',
  'what.carry': 'how far the ball flies',
  'what.tempo': 'the pace of your swing',
  'what.brace': 'when your front side gets firm',
  'what.shots': 'your shots',
  'what.other': 'one of your numbers',

  // Amounts; the number comes written.
  'amount.yards': '{n} yards',
  'amount.metres': '{n} metres',
  'amount.milesAnHour': '{n} miles an hour',
  'amount.kmAnHour': '{n} km an hour',
  'amount.metresASecond': '{n} metres a second',

  // One block against another.
  'change.cameWith': 'This came with {block}.',
  'change.hitBetter': 'You hit the ball better.',
  'change.hitWorse': 'The ball was hit less well.',
  'change.clubFaster': 'Your club was about {amount} faster.',
  'change.clubSlower': 'Your club was about {amount} slower.',
  'change.flewMore': 'The ball flew about {amount} more.',
  'change.flewLess': 'The ball flew about {amount} less.',
  'change.ballFaster': 'The ball left the club faster.',
  'change.ballSlower': 'The ball left the club slower.',
  'change.speedThere': 'So the speed is there. Next, make the hit as good as before.',
  'change.keep': 'Keep that feel.',
  'change.takesTime': 'That is fine: a new move takes time.',
  'change.otherClubs': 'You hit other clubs in {block}, so we can’t set it beside the start.',
  'change.wasSoIn': 'This was so in {block}.',
  'change.hitAsBefore': 'Next time, hit five as before to see if it stays.',
  'change.sureOfNumbers': 'We are sure of the numbers, not yet of what it came with.',
  'change.notCounted': 'Some shots were not counted here.',
  'change.askWhich': 'Your coach can tell you which.',
  'change.cannotSee': 'With {block} we can’t see a clear change yet. More shots will tell.',

  'spread.steadier': 'With {block}, your shots were more alike. That is good.',
  'spread.wilder': 'With {block}, your shots were less alike. That is fine: a new move takes time.',
  'spread.cannotTell': 'We can’t tell yet if your shots are more alike now than at the start.',

  // What holds back.
  'held.strike':
    'You swing fast enough. What you need now is a better hit. So work on the hit first, not on speed.',
  'held.strikeGain':
    'You swing fast enough. What you need now is a better hit. It could give you about {amount} more. So work on the hit first, not on speed.',
  'held.speed': 'You hit the ball well. More club speed would help you most. Build it up slowly.',
  'held.speedGain':
    'You hit the ball well. More club speed would help you most. A bit more could give you about {amount}. Build it up slowly.',
  'held.strikeFirst': 'A better hit comes first. Speed can wait.',
  'held.cannotTell':
    'We can’t tell yet if a better hit or more speed would help you most. More shots will tell.',

  // The speed for the course.
  'playSpeed.band': 'You play best with the club at {low} to {high}. Use that speed on the course.',
  'playSpeed.cannotTell':
    'We don’t know yet at which speed you play best. Hit some shots easy, some fast, and we will see.',

  // Since the last lesson.
  'kept.cannotTell': 'We can’t tell yet if this is as it was last time: {what}.',
  'kept.cannotTellMany': 'We can’t tell yet if {what} are as they were last time.',
  'kept.kept': 'What you gained last time is still there: {what}. Well done.',
  'kept.lost':
    'Some of what you gained last time is gone: {what}. That is normal. Go back to the feel from then.',

  // From lesson to lesson, and after a plan.
  'season.rising': 'From lesson to lesson, {what} has gone up. Keep going like this.',
  'season.falling':
    'From lesson to lesson, {what} has gone down. Let us find out why before you push harder.',
  'season.best': 'You have a new best: {what}. Well done.',
  'season.bestNotClear': 'One of your lessons stands first in {what}. It may have been a lucky day.',
  'season.alike': 'In {what}, your lessons are much the same.',
  'season.notRecorded': 'We have no numbers for {what}.',
  'season.cannotTell': 'We can’t tell yet which way this goes: {what}. It takes more lessons.',
  'plan.up': 'Since the last plan, {what} has gone up. Keep your practice as it is.',
  'plan.down':
    'Since the last plan, {what} has gone down. That can happen. Tell your coach how the practice went.',
  'plan.same': 'Since the last plan, {what} is much as it was.',
  'plan.cannotTell': 'We can’t tell yet if this changed since the last plan: {what}.',

  // The rest.
  'cue.differs': 'When your coach saw {cue}, {what} was not the same. Watch out for it.',
  'cue.cannotTell': 'We can’t tell yet if {cue} has to do with {what}.',
  'cue.this': 'this',
  'cue.whatCoachSaw': 'what your coach saw',
  'strike.offCentre':
    'Your hits are off the middle of the face in the same way. Ask your coach to show you where.',
  'strike.cannotTell': 'We can’t see yet where on the face you hit most. More marks on the face will tell.',
  'session.changed': 'In the course of the lesson, {what} changed.',
  'session.noChange': 'We see no clear change of {what} in the course of the lesson.',
  'other.changedWith': 'With {block}, {what} changed.',
  'other.changedToday': 'Today, {what} changed.',
  'other.cannotTell': 'We can’t tell yet if this changed: {what}.',

  // The page.
  'page.yourLesson': 'Your lesson',
  'page.from': 'from {coach}',
  'page.logoOf': 'Logo of {coach}',
  'page.logoOfCoach': 'Logo of your coach',
  'page.onThisPage': 'On this page',
  'page.top': 'Top',
  'page.backToTop': 'Back to top',
  'page.inShort': 'In short',
  'page.heldBack': 'What held you back',
  'page.changed': 'What changed',
  'page.untilNext': 'What to do until next time',
  'page.practise': 'Practise: {drills}.',
  'page.beforeAfter': 'Before and after',
  'page.beforeAfterShort': 'Before',
  'page.shots': 'Your lesson, shot by shot',
  'page.shotsShort': 'Shots',
  'page.more': 'More, and the numbers of each block',
  'page.talk': 'Talked through',
  'page.talkShort': 'Talk',
  'page.talkText': '{title}: your coach speaks to the pictures, {length} minutes',
  'page.talkCaption': 'with your coach’s voice',
  'page.swings': 'Moments that matter',
  'page.swingsShort': 'Swings',
  'page.plan': 'Until next time',
  'page.planShort': 'Practice',
  'page.next': 'Next lesson',
  'page.nextShort': 'Next',
  'page.howMuch': 'How much',
  'page.watchFor': 'Watch for',
  'page.looksLike': 'What “{drill}” looks like',
  'page.moments': 'Moments',
  'page.block': 'Block',
  'page.club': 'Club',
  'page.shotCount': 'Shots',
  'page.takenAs': '{metrics} (taken as {unit})',
  'page.unitNote': 'The measuring device’s file names no unit for some numbers, so one was assumed: {which}.',
  'page.footer':
    'Numbers are from the lesson’s own shot records. Clips are at the speed that stands beside them. Made with Leadside.',

  // Cautions that go with any practice.
  'caution.warmUp': 'Warm up before you practise, moving rather than stretching in place.',
  'caution.stop':
    'Stop if something hurts. For an injury, or pain that comes back, see a medical professional before you go on.',
  'caution.lookAround':
    'Look around before every swing: nobody and nothing within reach of the club. Follow the rules of the place.',
  'caution.buildUp':
    'Build up slowly, and rest between sets. This plan supports your lessons; it does not replace medical or licensed advice.',

  // Clips and stills.
  'clip.realSpeed': 'real speed',
  'clip.partOfRealSpeed': '1/{n} of real speed',
  'clip.percentOfRealSpeed': '{n} % of real speed',
  'clip.swing': 'Swing {n}',
  'clip.holdsOn': 'holds on {moments}',
  'clip.holdingOn': '{title}, {speed}, holding on {moments}',
  'clip.plain': '{title}, {speed}',
  'clip.beforeImpact': '{moment}, {time} before impact',
  'clip.afterImpact': '{moment}, {time} after impact',
  'clip.drawn': 'drawn on it: {labels}',
  'clip.marked': 'marked: {cues}',
  'clip.strength1': 'a little',
  'clip.strength2': 'clear',
  'clip.strength3': 'strong',
  'clip.leftRight': 'left {first}, right {second}',
  'clip.over': '{second} laid over {first}',
  'clip.mirrored': '{title} (mirrored)',
  'clip.stills': 'still pictures',
  'clip.together': 'together at {moments}',
  'clip.bothAt': 'Both at {moment}',
  'clip.stretched': ', stretched to match',
  'clip.upperStretched': '; upper swing stretched to match',
  'clip.lowerSpeed': '{speed} (lower swing)',
  'clip.leftSpeed': '{speed} (left swing)',
  'clip.rightIsStretched': 'right swing stretched to match',
  'clip.upperIsStretched': 'upper swing stretched to match',
  'clip.computed': '{value} (computed)',

  // The chart.
  'chart.title': '{metric} of each shot with the {club}; the lines are the middle of each block',
  'chart.titleStep':
    '{metric} of each shot with the {club}; the lines are the middle of each block; where the strip is, the level changed',
  'chart.text': '{metric}, {club}: {blocks}',
  'chart.textStep': '{metric}, {club}: {blocks}; the level changed between shot {from} and shot {to}',
  'chart.notRecorded': '{block} not recorded',
  'chart.shot': 'shot',

  // The moments of a swing.
  'moment.setup': 'setup',
  'moment.takeaway': 'takeaway',
  'moment.top': 'top',
  'moment.brace': 'brace',
  'moment.impact': 'impact',
  'moment.release': 'release',
  'moment.finish': 'finish',
  // What a still picture shows.
  'moment.grip': 'grip',
  'moment.face': 'face of the club',
  'moment.ground': 'ground',

  // What the coach marks; the starters only, the coach's own stay as they are.
  'cueKind.tension-face': 'Tension: jaw and face',
  'cueKind.tension-shoulders': 'Tension: shoulders',
  'cueKind.tension-arms': 'Tension: arms',
  'cueKind.tension-hands': 'Tension: hands',
  'cueKind.bracing-firm': 'Lead side firm',
  'cueKind.bracing-late': 'Lead side late',
  'cueKind.bracing-slides': 'Lead side slides past',
  'cueKind.release': 'Release',
  'cueKind.grip': 'Grip',
  'cueKind.stance': 'Stance',
  'cueKind.strike': 'Strike',

  // Blocks that nobody has named.
  'block.baseline': 'Baseline',
  'block.numbered': 'Block {n}',

  // Clubs.
  'club.unknown': 'unknown club',
  'club.wood': '{n}-wood',
  'club.hybrid': '{n}-hybrid',
  'club.iron': '{n}-iron',

  // Numbers a student reads beside a swing or in the table.
  'label.efficiency': 'efficiency',
  'label.clubSpeedMps': 'club speed',
  'label.ballSpeedMps': 'ball speed',
  'label.carryM': 'carry',
  'label.tempoRatio': 'tempo',
  'label.leadKneeImpactDeg': 'lead knee at impact',
  'label.headAlongImpactWidths': 'head along the line, setup to impact',
  'unit.shoulderWidths': 'shoulder widths',
} as const

/** A message by its name. */
export type MessageKey = keyof typeof en
