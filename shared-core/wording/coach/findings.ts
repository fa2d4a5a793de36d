/**
 * What is found in a lesson, for the coach, in English, as ICU messages. "Came with", never a cause; a range with every
 * difference; "can't tell yet" is an answer. A plural's own texts have no places.
 */
export const findingPhrases = {
  // Parts that many findings share.
  'text.quoted': '“{label}”',
  'text.nothing': 'next to nothing',
  'text.nothingEitherWay': 'next to nothing either way',
  'text.noDifference': 'no difference',
  'text.fromTo': '{low} to {high}',
  'text.byWay': '{by} {way}',
  'text.noP': 'no p',
  'text.smallP': 'p below 0.001',
  'text.p': 'p {p}',
  'text.adjustedP': '{p}, adjusted {adjusted}',
  'text.efficiencyNotRecorded':
    'Efficiency needs club speed and ball speed of the same shot; they were not both recorded, so nothing can be said about it.',
  'text.notRecorded': '{what} was not recorded, so nothing can be said about it.',
  'text.inBlock': '{kind} in {block}',
  'text.inBlockByCoach': '{kind} in {block} (left out by the coach)',
  'text.noShots': 'No shots.',
  'text.stop': '{text}.',
  'text.ofClub': '{club}: {text}.',
  'text.noClub': 'the shots without a club name',
  'text.theClub': 'the {club}',
  'text.none': 'None.',
  'text.assumedError':
    'device error: assumed, to be edited by the coach (no published figure for the device could be confirmed)',
  'text.sourceAndError': '{publications}; {error}',
  'text.blocks': '{before} and {after}',
  'text.of': '{label}: {text}',

  'count.shot': '{n, plural, one {# shot} other {# shots}}',
  'count.clubShot': '{n} {club} {n, plural, one {shot} other {shots}}',
  'count.shotOfUnknownClub': '{n, plural, one {# shot} other {# shots}} of an unknown club',
  'count.strike': '{n, plural, one {# strike} other {# strikes}}',
  'count.block': '{n, plural, one {# block} other {# blocks}}',
  'count.earlierBlock': '{n, plural, one {# earlier block} other {# earlier blocks}}',
  'count.pair': '{n, plural, one {# pair} other {# pairs}}',
  'count.taggedSwing': '{n, plural, one {# tagged swing} other {# tagged swings}}',
  'count.lesson': '{n, plural, one {# lesson} other {# lessons}}',
  'count.student': '{n, plural, one {# student} other {# students}}',
  'count.number': '{n, plural, one {# number} other {# numbers}}',
  'count.reading': '{n, plural, one {# reading} other {# readings}}',

  'way.faster': 'faster',
  'way.slower': 'slower',
  'way.longer': 'longer',
  'way.shorter': 'shorter',
  'way.earlier': 'earlier',
  'way.later': 'later',
  'way.straighter': 'straighter',
  'way.moreBent': 'more bent',
  'way.towardTarget': 'further toward the target',
  'way.fromTarget': 'further from the target',
  'way.higher': 'higher',
  'way.lower': 'lower',

  'sure.notRecorded': 'Not recorded.',
  'sure.notCompared': 'Nothing was compared.',
  'sure.cannotTell': "Can't tell.",
  'sure.cannotTellYet': "Can't tell yet.",
  'sure.clear': 'Clear.',
  'sure.clearAmong': 'Clear: {numbers} looked at, and this allows for it.',
  'sure.deviceError': "Can't be told from the device's error.",
  'sure.fewDigits': "Can't tell: the device gives too few digits.",
  'sure.hitSpeedsOnly': 'Clear for the speeds that were hit, and for those only.',

  'caution.swing':
    'Warm up first and build up slowly. Stop if anything hurts; with an injury, see a medical professional before speed work. Mind the space around you and follow the rules of the place.',

  // Block against block.
  'compare.noReadings': "{what} can't be compared between {blocks}: one of them has no readings.",
  'compare.nothingToCompare': '{blocks} have no readings to compare.',
  'compare.firstImpression':
    '{n, plural, one {# shot} other {# shots}} in {block} {n, plural, one {is} other {are}} a first impression, not a level.',
  'compare.looks': '{what} looks {by} {way} in {after} than in {before}, but {impression}',
  'compare.hitMore': 'Hit more before building on it.',
  'compare.notYetSure': 'Not yet sure: {impression}',
  'compare.tooFew':
    'Too few shots to compare {blocks} ({shots} and {other}): at least 5 in each are needed for a first answer.',
  'compare.chanceAlone': "Can't tell yet: with so few shots, chance alone makes any difference.",
  'compare.alike': 'All readings of a block are alike in {what}, which is too coarse to judge {blocks}.',
  'compare.nothingChanged': 'Nothing changed from {before} to {after} that would matter: {what}.',
  'compare.insideMargin': 'A larger change is unlikely: the 90 % intervals lie inside that.',
  'compare.cannotTell': "Can't tell yet whether {after} changed anything against {before}.",
  'compare.clearAlone':
    'Not sure yet: {n, plural, one {one number is} other {some numbers are}} clear alone, not among the {all} looked at.',
  'compare.hidden': "Can't tell yet: scatter and device hide differences of this size.",
  'compare.upTo': 'up to {by} {way} (about {about})',
  'compare.between': '{range} {way} (about {about})',
  'compare.in': 'In {after}',
  'compare.inEarlier': 'In {after}, hit before {before},',
  'compare.changed': '{where} {changes} than in {before}.',
  'compare.metricWas': '{metric} was {by}',
  'compare.metricBy': '{metric} {by}',
  'compare.traded':
    '{where} more club speed did not reach the ball: club speed was {speed} than in {before}, but efficiency {efficiency}, and {ball}; with the strike of {before} that speed would have given about {alike}.',
  'compare.ballNotRecorded': 'what the ball gained was not recorded',
  'compare.ballNothing': 'the ball gained nothing that shows ({range})',
  'compare.ballOnly': 'the ball gained {range} only',
  'compare.backTookAway':
    'Going back to how it was ({block}) took it away again, so a drift over the lesson is unlikely.',
  'compare.backStayed':
    'On going back ({block}) {what} stayed where it was: practice, warm-up or a drift of the day may be behind it.',
  'compare.backOpen':
    'Going back ({block}) does not settle yet whether it was the step or a drift: hit five more each way.',
  'compare.soBefore': 'It was so before {before}, and a drift alone would not make it.',
  'compare.cameWith': 'It came with {after}; other things may have changed too.',
  'compare.driftLikely':
    'Inside the blocks {what} was moving the same way all along, so this may be a drift and not the step: hit five as before once more.',
  'compare.driftLikelyPart':
    'Inside the blocks {what} was moving the same way all along, so this may be a drift and not the step: it could make {part} of the difference; hit five as before once more.',
  'compare.driftOpen':
    "The blocks followed each other, and a steady drift of {what} over the lesson can't be ruled out: hit five as before once more.",
  'compare.driftOpenPart':
    "The blocks followed each other, and a steady drift of {what} over the lesson can't be ruled out: it could make {part} of the difference; hit five as before once more.",
  'compare.all': 'all',
  'compare.within': '{metric} within {margin}',
  'compare.lessThan': '{metric} {by} {way}, less than the {margin} worth having',
  'compare.looksAlone': '{what}, {but}.',
  'compare.metricLooks': '{metric} looks {by}',
  'compare.goesWithIt': 'which goes with it; by itself it is not counted as sure',
  'compare.butTooFew':
    'but {n, plural, one {# shot} other {# shots}} in a block {n, plural, one {is} other {are}} too few to count on it',
  'compare.butByChance': 'but of {all} numbers looked at, one or two look so by chance: not counted',
  'compare.fits': '{metric} ({span} fits)',
  'compare.open': 'Open: {what}.',
  'compare.notClear': 'Not clear: {what}.',
  'compare.muchTheSame': 'Much the same: {what}.',
  'compare.deviceCould': 'No more than the device could make: {what}.',
  'compare.noReadingsOf': 'No readings of {what}.',
  'compare.scatterTooWide': 'The shots scatter too widely for a change worth having to show in one lesson.',
  'compare.wouldHaveShown': 'A change of {margin} in {metric} would have shown 8 times in 10.',
  'compare.shotsWouldShow':
    'About {shots} shots in each block would show a change of {margin} in {metric} 8 times in 10; settle the number before hitting.',
  'compare.allowedFor': '{all} numbers were looked at, and this allows for it',
  'compare.largerThanScatter': 'larger than scatter and device error',
  'compare.clear': 'Clear: {why}.',
  'compare.clearDifference': 'The difference is clear: {why}. What it came with is not.',
  'compare.resemble': 'Consecutive shots resemble each other; that is allowed for.',
  'compare.errorNotKnown': "The device's error is not known for every number here and not counted there.",
  'compare.placedAnew': 'The device was placed anew in between; that error is counted.',
  'compare.withoutReading': '{n} without a reading',
  'compare.toLookAt': '{n} to look at, kept in',
  'compare.shotsIn': '{shots} in {block}',
  'compare.shotsInMedian': '{shots} in {block}, median {median}',
  'compare.withExtras': '{text} ({extras})',
  'compare.dataRow': '{metric}: {before}; {after}',
  'compare.dataDifference': 'difference {range} (95 %)',
  'compare.dataVisible': "less than {by} can't be told from scatter",
  'compare.nothingDone': 'None: nothing to compare.',
  'compare.method':
    '{method}; club speed and efficiency first, what follows from them after ({all} numbers in one budget of 5 %). A change is spoken of if the adjusted p is at most 0.05 and the difference is more than the device could make. Nothing is dropped for being a mishit.',
  'compare.methodPlacedAnew':
    '{method}; club speed and efficiency first, what follows from them after ({all} numbers in one budget of 5 %). A change is spoken of if the adjusted p is at most 0.05 and the difference is more than the device could make, placing it anew included. Nothing is dropped for being a mishit.',
  'compare.drift': '{publications}; analysis of covariance for drift; {error}',
  'compare.onlyClub': 'Only {club} was compared; not looked at: {others}.',
  'compare.notCounted': 'Not counted: {others}.',
  'compare.clubsNotMixed': 'Clubs are never mixed in a comparison.',
  'compare.sameClub': 'Shots of one club against the same club.',
  'compare.noCommonClub': "{blocks} have no shots of the same club, so they can't be compared.",
  'compare.thereAre': 'There are {shots}.',

  // Scatter of two blocks.
  'spread.steadier':
    '{what}: the shots of {after} lie closer together than those of {before}, by about {times} times.',
  'spread.wilder':
    '{what}: the shots of {after} lie farther apart than those of {before}, by about {times} times.',
  'spread.cannotTell':
    "Can't tell whether the shots came closer together or farther apart from {before} to {after} in {what}.",
  'spread.hardToShow':
    "Can't tell: with 10 and 10 shots even a scatter half as wide shows in one lesson of three only.",
  'spread.alike': "All readings of {what} are alike in one of {blocks}, so the scatter can't be compared.",
  'spread.tooFew': 'Too few shots to compare the scatter of {blocks} in {what}.',
  'spread.shotsNeeded': "Can't tell: at least {least} shots in each are needed, 15 are better.",
  'spread.data': '{club}: {shots} in {before}, {other} in {after}; {numbers}.',
  'spread.metricP': '{metric} {p}',
  'spread.method': 'Distances from each block’s median compared (F test), adjusted over {all} (Holm).',

  // An unusual baseline.
  'regression.expected':
    'Part of the change in {metric} was to be expected: the baseline was unusual for this player, and about {by} {way} would have come by itself.',
  'regression.howSure': 'An expectation from earlier blocks, not a measurement.',
  'regression.data': '{blocks}; usual level {level}.',
  'regression.method':
    'Regression to the mean: how much of a block’s distance from the usual level is scatter.',

  // Cues.
  'cue.differs':
    '{what} was {by} {way} on the swings tagged {cue} than on the others of the same blocks. It came with the cue; that is not yet a cause.',
  'cue.withinDevice':
    '{what} differs by {by} on the swings tagged {cue}, no more than the device could make.',
  'cue.cannotTell': "Can't tell yet whether the swings tagged {cue} differ in {what}.",
  'cue.cannotTellYet': "Can't tell yet ({swings}).",
  'cue.isBlock':
    '{cue} is on all swings of its block or on none: cue and block are the same thing here, so there is no comparing of {what} by cue.',
  'cue.tagSome': "Can't tell: tag some swings of a block and not others, or go back and forth.",
  'cue.noPairs': 'There are no swings with and without {cue} in one block to compare {what}.',
  'cue.data': '{tagged}, {untagged} untagged, {pairs} inside {blocks}; {p}.',
  'cue.method':
    'Differences inside the same block and club only; p from all re-taggings inside the blocks, exact; adjusted over the {all} numbers shown (Holm).',

  // Lesson against lesson.
  'kept.notComparable':
    "{previous} and {current} can't be compared: it takes two blocks in the lesson before and one in this, with the same club.",
  'kept.data': '{club}: {n} shots of {first} and {m} of {last} ({day}), {k} of {now} ({today}).',
  'kept.dataWarmUp':
    '{club}: {n} shots of {first} and {m} of {last} ({day}), {k} of {now} ({today}); the first {warmUp} shots of each first block are warm-up.',
  'kept.method':
    'Share of the gain still there, with Fieller’s interval; the verdict allows for all numbers shown (Bonferroni) and for placing the device anew.',
  'kept.tooFew': '{what}: too few shots to say what was kept of last lesson (8 in each block are needed).',
  'kept.noGain': '{what}: no clear gain last lesson, so there is nothing to keep or lose.',
  'kept.noClearGain': 'No clear gain.',
  'kept.noneClear': 'None is clear once all are counted; each by itself: {gains} (95 % intervals).',
  'kept.gainOf': '{metric} {range}',
  'kept.stillThere': '{what} got {gain} {way} last lesson, and it is still there: {share}.',
  'kept.halfKept': 'Sure that at least half of it was kept.',
  'kept.mostGone': '{what} got {gain} {way} last lesson, and most of that is gone; what is left is {share}.',
  'kept.lessKept': 'Sure that less than half of it was kept.',
  'kept.cannotTell': "{what} got {gain} {way} last lesson; can't tell yet how much of it is still there.",
  'kept.cannotTellYet': "Can't tell yet: {share}.",
  'kept.withinSetUp':
    "{what} got {gain} {way} last lesson, which is no more than placing the device anew could make (up to {floor}), so it can't be followed from lesson to lesson.",
  'kept.setUpError': "Can't be told from the set-up's error.",
  'kept.all': 'all of it or more',
  'kept.about': 'about {share} of it',
  'kept.interval': '{share} (95 % interval {low} to {high})',

  // A plan, and what came after it.
  'plan.nothing': 'Nothing was recorded that could be compared {between}.',
  'plan.between': 'from the end of the lesson of {planned} to the start of the one of {shown}',
  'plan.cannotTell': "Can't tell yet whether {what} changed {between}.",
  'plan.hidden': "Can't tell: scatter, the device and placing it anew hide a difference of this size.",
  'plan.tooFew': 'Too few shots to say whether {what} changed {between}.',
  'plan.shotsNeeded': "Can't tell: at least 5 shots on either side are needed.",
  'plan.changed':
    '{what} was {by} {way} at the start of the lesson of {shown} than at the end of the lesson of {planned} (95 % interval {interval}). It came after the practice; other things may have changed too.',
  'plan.clear':
    'Clear: {numbers} looked at and the device placed anew, and this allows for both. It is a question of its own, beside those of the lesson.',
  'plan.withinDevice':
    '{what} was {by} {way} at the start of the lesson of {shown} than at the end of the lesson of {planned}, but placing the device anew alone could make up to {floor}.',
  'plan.held': '{what} held {between}, give or take {margin}.',
  'plan.insideMargin': 'A larger change is unlikely (90 % interval inside that margin).',
  'plan.noReadings': '{club}: no readings on both sides.',
  'plan.data': '{club}: {shots} of the last block before, {after} of the first block after.',

  // A season.
  'season.tooEarly': '{what}: {lessons}, too early for a trend.',
  'season.lessonsNeeded': "Can't tell yet: at least {least} lessons are needed.",
  'season.cannotTell': "Can't tell yet whether {what} is rising or falling over the season.",
  'season.fits': "Can't tell: a change of {interval} a month fits the lessons (95 % interval).",
  'season.trend': 'Over the season {what} got {by} a month {way} (95 % interval {interval}).',
  'season.alike': 'The lessons do not differ in {what} beyond the scatter of the shots.',
  'season.noneStandsOut': 'No lesson stands out.',
  'season.best': 'Personal best in {what}: {level} on {day}, with luck taken out.',
  'season.bestNotClear':
    'The highest level of {what} was {level} on {day}, with luck taken out, but it does not stand out from the next best by more than chance.',
  'season.bestClear': 'Clear: more than scatter and set-up error.',
  'season.luck': "Can't be told from luck.",
  'season.dayLabel': '{day} ({label})',
  'season.data': '{club}: {lessons}, {shots}',
  'season.dataP': '{data}; {p}.',
  'season.method':
    'Centre of each lesson over days: median of all pairwise slopes with its interval, Mann-Kendall p, adjusted over the {numbers} shown (Holm).',
  'season.bestMethod':
    'Each lesson’s mean pulled towards the mean of all lessons by the share that is scatter; a best counts if it stands out from every other lesson, placing the device anew included.',

  // Inside a lesson.
  'session.notRecordedMany': '{what} were not recorded, so nothing can be said about them.',
  'session.efficiencyNeeds': 'Efficiency needs club speed and ball speed of the same shot.',
  'session.method':
    'Whether: rank test for one change of level, p by shuffling (Pettitt), adjusted with the session’s other tests (Holm). Where: probability of each place, range that holds 90 %.',
  'session.data': '{readings}, {p}',
  'session.ofClub': '{club}, {shots} of the session',
  'session.tooFew': 'Too few shots to say whether and where {what} changed inside the session.',
  'session.shotsNeeded': "Can't tell: at least {least} shots are needed.",
  'session.alike': 'All readings of {what} are alike, so no change can be placed.',
  'session.steady': 'Shot by shot, no step in {what} stands out.',
  'session.noProof': 'That is not proof that nothing changed.',
  'session.rose':
    '{what} rose bit by bit during the session, more like a slope than a step: the later part was {by} {way}.',
  'session.fell':
    '{what} fell bit by bit during the session, more like a slope than a step: the later part was {by} {way}.',
  'session.moved': 'Clear that it moved; not where.',
  'session.somewhere': 'somewhere in the middle of the session',
  'session.after': 'after shot {shot}',
  'session.between': 'between shot {from} and shot {to}',
  'session.withStart': 'It came with the start of {block}.',
  'session.thatIsIn': 'That is in {blocks}.',
  'session.firstTagged': 'First tagged there: {cues}.',
  'session.changed': '{what} changed {place}: {by} {way} from there on.',
  'session.clearRange': 'Clear that it changed; the true place lies in that range with 90 %.',

  // Speed to play at.
  'speed.notRecorded':
    'Play speed needs club speed and ball speed of the same shots; they were not both recorded, so nothing can be said about it.',
  'speed.strikeCosts': 'The strike costs more than the speed here: work on the strike.',
  'speed.strikeFirst': 'Look at the strike before trying other speeds.',
  'speed.toHit':
    'To find out, hit about {shots} more shots, a third each at {efforts} effort (roughly {speeds}).',
  'speed.tooFew': '{n, plural, one {# shot is} other {# shots are}} too few to find the play speed.',
  'speed.shotsNeeded': "Can't tell: at least 12 shots are needed, 20 are worth waiting for.",
  'speed.alike':
    'The play speed can’t be found yet: these swings differ in speed hardly more than the device errs.',
  'speed.disagree': 'The shots do not agree on one play speed: not enough range to tell.',
  'speed.noRange': "Can't tell: not enough range of speeds.",
  'speed.stillRising':
    'Ball speed kept rising with club speed up to {fastest}: no limit was found in these swings. That alone is no reason to swing harder; direction, body and safety come first.',
  'speed.falling':
    'Ball speed was highest at the slowest swings that were hit: more club speed came with so much worse strikes that nothing was gained.',
  'speed.noRangeInside': 'Not enough range to tell the play speed.',
  'speed.mild':
    "The best speed can't be placed closely: from {band} the ball speed is within 1 % of its best. Take the slower end, about {slower}.",
  'speed.mildWorse':
    "The best speed can't be placed closely: from {band} the ball speed is within 1 % of its best. Take the slower end, about {slower}; the faster swings went farther from the usual direction.",
  'speed.mildBend': 'The bend is mild: the best speed lies somewhere in {range}.',
  'speed.best':
    'Your play speed is about {range}: there the ball speed is best. Your fastest swing, {fastest}, gave no more ball speed on average.',
  'speed.bestWorse':
    'Your play speed is about {range}: there the ball speed is best, and above it the direction gets worse. Your fastest swing, {fastest}, gave no more ball speed on average.',
  'speed.resampling': 'Resampling agrees.',
  'speed.liesAt': 'The best speed lies at {range} (95 % interval).',
  'speed.shots': '{shots} with club speed and ball speed',
  'speed.more': '{share} of the spread of club speed is more than misreading',
  'speed.method':
    'Efficiency against club speed, curved fit over all shots, mishits included; the speed with the greatest expected ball speed, never outside what was hit; 2,000 resamplings must agree to 95 %.',
  'direction.worse': 'The faster swings went farther from the usual direction.',
  'direction.better': 'The faster swings were nearer to the usual direction.',
  'direction.cannotTell': "Can't tell whether direction gets worse with speed.",
  'direction.tooFew': 'Too few shots with a direction ({n}) to hold it against speed.',
  'direction.shotsNeeded': 'At least 10 shots are needed.',
  'direction.notRecorded': 'Direction was not recorded, so this is about ball speed only.',
  'direction.correlation': '{shots}, rank correlation {r} (95 % interval {low} to {high}).',
  'direction.method':
    'Rank correlation of club speed with the distance from the median direction (Spearman).',

  // Strike or speed.
  'held.about': 'about {amount}',
  'held.levelBelow': 'efficiency {own}, about {reach} is within reach',
  'held.levelAtReach': 'efficiency {own}, as high as can be expected',
  'held.strikeWorth': "a strike like that at today's speed would be worth {gain} of carry",
  'held.speedWorth': "{more} more club speed at today's strike about {gain}",
  'held.strike': 'Strike holds the carry back, not speed: {level}; {strike}, {speed}.',
  'held.speed':
    'Speed holds the carry back, not strike: the strike is good enough ({level}), {more} more club speed at this strike would be worth about {gain} of carry.',
  'held.cannotTell': "Can't tell yet which holds the carry back ({level}): {strike}, {speed}.",
  'held.strikeFirst': 'Look at the strike before any speed work.',
  'held.tooClose':
    'They lie too close together, or what is within reach is too uncertain, for more shots alone to settle it.',
  'held.wouldSettle': 'About {shots} more shots would settle it 8 times in 10.',
  'held.notSure': 'Not sure.',
  'held.notSureYet': 'Not sure yet; about {shots} more shots would tell.',
  'held.nearlyCertain': 'More than 95 chances in 100 by these shots and the errors assumed for the device.',
  'held.chances': 'About {tenths} chances in 10 by these shots and the errors assumed for the device.',
  'held.restsOnOwn': 'It rests on this player’s own shots only.',
  'held.restsOnFormula': 'It rests on a formula for what a {club} can give; no published average is known.',
  'held.restsOnAverage': "It rests on the best players' average with a {club}, quoted from memory.",
  'held.oddReadings': '{n, plural, one {# odd reading was} other {# odd readings were}} left out.',
  'held.unitsWrong':
    "No verdict: ball speed and club speed don't fit each other for a {club}; the units or the columns look wrong.",
  'held.checkUnits': 'Nothing is said about strike or speed until the units are checked.',
  'held.deviceWrong':
    'No verdict: {above} of {of} shots are above what a {club} can give; the device seems to misread club speed, or the units look wrong.',
  'held.deviceWrongLimit':
    'No verdict: {above} of {of} shots are above what a {club} can give ({limit}); the device seems to misread club speed, or the units look wrong.',
  'held.checkDevice': 'Nothing is said about strike or speed until the device or the units are checked.',
  'held.noShots': 'No shots yet, so strike and speed cannot be compared.',
  'held.severalClubs': 'These shots mix several clubs; strike and speed are compared for one club at a time.',
  'held.noSpeeds':
    'No shot has both club speed and ball speed, so efficiency, play speed and what holds the carry back can’t be told.',
  'held.speedsNotUsed':
    'Of every shot with both club speed and ball speed, one of the two can’t be and took no part, so efficiency, play speed and what holds the carry back can’t be told; check the device or the units.',
  'held.tooFew':
    "Can't tell yet: {n} usable {n, plural, one {shot is} other {shots are}} too few; {more} more with the {club} would give a first answer.",
  'held.noCeiling': "Can't tell: {reason}.",
  'held.noCeilingKnown': 'no ceiling is known',
  'held.noCarry': "Can't tell in carry: {reason}.",
  'held.notComputed': 'Not computed.',
  'held.notComputedYet':
    'Not computed; {n} more {n, plural, one {shot} other {shots}} would give a first answer.',
  'held.shots': '{n, plural, one {# shot} other {# shots}} with the {club}',
  'held.shotsLeftOut':
    '{n, plural, one {# shot} other {# shots}} with the {club}, {leftOut} left out (no club or ball speed, or an impossible reading)',
  'held.assumedGain': 'assumption: 3 % of today’s club speed; no published figure could be confirmed',
  'held.gainByCoach': "{percent} % of today's club speed, set by the coach",
  'held.data': '{data}; {launch}.',
  'held.method':
    "Within reach: {reach} ± {sd}, {basis}. Speed gain: {gainBasis}. Asked: is the gap in the strike larger than what the speed would give ({worth}) and than what is worth having ({margin})? Gap {gap} ± {gapSd}. Turned into carry by the flight model at the block's mean launch and spin.",
  'held.source':
    'Two-body impact and tour averages by club (from memory), flight after Quintavalla 2002 with capped spin, equivalence with a margin after Schuirmann 1987; device errors are assumptions the coach can edit.',

  // What is within reach, and what a flight is computed with.
  'carry.asRecorded': 'launch and spin as recorded',
  'carry.assumed': '{what} assumed: {basis}',
  'carry.assumedLaunch': 'launch {launch}° ± {sd}°',
  'carry.assumedSpin': 'spin {spin} ± {sd} rpm',
  'carry.betweenClubs': "between the neighbouring clubs' men's tour averages (assumption), spread assumed",
  'carry.launchAngle': 'launch angle',
  'carry.noTypical': 'no {what} was recorded, and no typical value is known for {club}',
  'carry.spin': 'spin',
  'carry.tourAverage': "men's tour average (widely reprinted, from memory), spread assumed",
  'ceiling.average':
    "men's tour average with the {club} (from memory), a soft ceiling; the formula gives {formula}",
  'ceiling.averageAtLoft':
    "men's tour average with the {club} at this loft (from memory), a soft ceiling; the formula gives {formula}",
  'ceiling.formula':
    'two-body formula for the {club} with an assumed head and loft; no published average is known',
  'ceiling.lightHead': '{basis}, for a light head',
  'ceiling.ownBest': "the best of this player's own {n} shots with the {club}, the device's error taken out",
  'ceiling.putter': 'a putter has no ceiling of efficiency here',
  'ceiling.raised': '{basis}; raised by what this player has shown in {n} shots ({level})',
  'ceiling.unknown': 'no ceiling is known for {club}; {needed} own shots would give one ({own} so far)',
  'lesson.computedCarry':
    '{data} The device gave no carry with the {clubs}, so it is computed from ball speed, launch and spin.',
  'text.anUnknownClub': 'an unknown club',
  'text.club': '{club}',

  'caution.speed':
    'Before speed work: warm up dynamically, build volume slowly, keep space around you and stop with pain; earlier back, wrist, elbow, shoulder or knee trouble goes to a medical professional first.',

  // What works across students.
  'works.cue': 'the cue {cue}',
  'works.student': 'Student {n}',
  'works.notRecordedShort': 'not recorded',
  'works.tooFewShort': '{students}, too few to say',
  'works.notRecorded': '{what} was not recorded at the baseline and with {focus}, at least three shots each.',
  'works.tooFew': '{what} with {focus}: {students} so far; from {least} on something can be said.',
  'works.short': '{sameWay} of {all} students, {by} ({span})',
  'works.next': 'One more student like these may find {range}.',
  'works.allowed': '{numbers} looked at in this list, and this allows for it.',
  'works.cameWith':
    'With {focus} {what} was {way} than at the baseline in {sameWay} of {all} students: {by} (95 % interval {span}).',
  'works.clear': 'Clear that it came with it, not that it came from it: {allowed}',
  'works.noOtherBlocks':
    'Fewer than {least} students had another block after the baseline to hold it against, so what any later block brings is in it.',
  'works.asOthers':
    'With {focus} {what} was {way} than at the baseline, {by} (95 % interval {span}), but not clearly otherwise than in the same lessons’ other blocks after the baseline (the difference is {apart}).',
  'works.asAnyBlock': "Can't be told from what any block after the baseline brings.",
  'works.cannotTell':
    "Can't tell yet whether {what} differs with {focus}: {by} (95 % interval {span}), up or down the same way in {sameWay} of {all} students.",
  'works.cannotTellYet': "Can't tell yet: {allowed}",
  'works.chosen': 'A focus is given to those who seem to need it. Others may not answer like that.',
  'works.slowStart':
    'A slow start by chance gets better by itself (regression to the mean), and later swings differ from the first whatever the focus: the change is what came with it, not what it did.',
  'works.fewStudents':
    'Few students ({most} at most): intervals are wide, and one student more can move them.',
  'works.leftOut': '{students} left out: the consent on the card does not allow keeping, or has run out.',
  'works.method':
    "Per student: mean of the shots with the focus or cue less the mean of the baseline’s, inside the same lessons and with the same club, lessons weighed by their shots. Together: random effects, variance between students by REML, Hartung–Knapp interval. Where the lessons had other blocks after the baseline, it must differ from those, too. One budget of 5 % for the {numbers} in this list (Holm); no lesson's budget has a part in it. Looked at: {metrics}.",

  // The strike map; lengths on the face are millimetres in every unit system.
  'strike.notRecorded': 'No place on the face was recorded, so there is no strike map.',
  'strike.firstImpression': '{strikes} on the map: a first impression, not a pattern.',
  'strike.strikesNeeded': "Can't tell yet: at least 8 strikes are needed.",
  'strike.ellipse': '95 % of the next strikes fall in an ellipse of about {width} by {height} mm',
  'strike.off': 'The strikes sit {off} of {spot}; {ellipse}.',
  'strike.clearOff': 'Clear that the centre of the pattern is off.',
  'strike.noBias': 'No bias from {spot} can be shown; {ellipse}.',
  'strike.centredUnsure': "That the strikes are centred can't be told for sure.",
  'strike.bestSpot': 'the player’s best spot so far',
  'strike.faceCentre': 'the face centre',
  'strike.ofBestSpot':
    'Best spot: the middle of the best quarter of {strikes} in earlier lessons, {off} of the face centre.',
  'strike.ofFaceCentre':
    'Distances count from the face centre; from 20 strikes of earlier lessons on, from the player’s own best spot.',
  'strike.toe': '{mm} mm on the toe side',
  'strike.heel': '{mm} mm on the heel side',
  'strike.high': '{mm} mm on the high side',
  'strike.low': '{mm} mm on the low side',
  'strike.middle': 'less than 1 mm off the middle',
  'strike.data': '{club}: {strikes} with a place on the face',
  'strike.dataBias': '{data}; bias {p}. {origin}',
  'strike.ellipseMethod':
    'Ellipse in which 95 % of the next strikes fall (F factor for few shots); bias by Hotelling’s test.',
  'strike.lossData': '{strikes} with efficiency. {origin}',
  'strike.lossMethod':
    'Least squares of efficiency on the squared distance from the spot, which is fixed beforehand.',
  'strike.lossSource': 'ordinary least squares; rigid body: the loss grows with the squared distance',
  'strike.falls': '10 mm from {spot} efficiency is about {loss} lower.',
  'strike.fallsInterval': '95 % interval {low} to {high} lower.',
  'strike.cannotTell': "Can't tell yet how much efficiency falls with distance from {spot}.",
  'strike.tooFew': 'Too few strikes with efficiency ({n}) to see how it falls with distance.',
  'strike.lossNeeded': "Can't tell: at least 10 are needed.",
  'strike.lossNotRecorded':
    'Efficiency was not recorded with these strikes, so the cost of a miss can’t be told.',
} as const
