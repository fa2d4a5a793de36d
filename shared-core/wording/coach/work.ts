/**
 * Long work, in English, as ICU messages: what it is called, what it does just now, what came of it; and what is told of files that
 * are kept, set aside, waited for or left. A plural's own texts have no places.
 */
export const workPhrases = {
  // What it is called.
  'job.backup': 'Backup',
  'job.backupOfTheDay': 'Backup of the day',
  'job.body': 'Body in {clip}',
  'job.clipSetAside': 'Clip set aside, {name}',
  'job.demo': 'Demo lesson',
  'job.follow': 'The {point} in {clip}',
  'job.frame': '{clip}, frame {frame}',
  'job.giveLesson': 'Lesson file for a colleague',
  'job.handOver': 'Hand-over',
  'job.repair': 'Repair',
  'job.takeLesson': 'Lesson from a colleague',
  'job.talk': 'Talk-through',
  'name.beforeAndAfter': 'Before and after',
  'name.block': 'Block {n}',
  'name.clip': 'clip',
  'name.clipNumbered': 'clip {name}',
  'name.setAside': 'set aside {name}',
  'name.foundClips': 'Found clips',
  'name.pictureInFile': 'a picture in the file',
  'name.picture': 'a picture',

  'option.micDistance': 'A microphone distance',
  'option.temperature': 'A temperature',
  'option.soundOffset': 'A sound offset',
  'option.captureRate': 'A capture rate',

  // What it does just now.
  'step.starting': 'starting',
  'step.oneOf': '{step}, {n} of {all}',
  'step.blocks': 'blocks, cues and drawings',
  'step.body': 'reading the body',
  'step.checking': 'checking',
  'step.checkingFiles': 'checking every file',
  'step.copying': 'copying',
  'step.copyingClips': 'copying clips',
  'step.copyingRecords': 'copying the records',
  'step.earlierLessons': 'earlier lessons ({n} of {all})',
  'step.following': 'following the {point}',
  'step.gathering': 'gathering',
  'step.impact': 'finding the strike',
  'step.keepingRecords': 'keeping the records',
  'step.looking': 'looking',
  'step.makingMissing': 'making what is missing',
  'step.pairing': 'pairing with the shot records',
  'step.preparing': 'preparing',
  'step.reading': 'reading',
  'step.readingBack': 'reading it back',
  'step.readingClips': 'reading clips',
  'step.sound': 'sound',
  'step.student': 'making the student',
  'step.takingClips': 'taking in clips ({n} of {all})',
  'step.thumbnails': 'thumbnails',
  'step.waitingForClip': 'waiting for the same clip',
  'step.workingCopy': 'making it quick to step through',

  // What came of it.
  'result.added': 'added',
  'result.addedBut': 'added, but {remarks}',
  'result.addedColours': 'added; its colours may be a little off (its colour profile can’t be read)',
  'result.already': 'already in this lesson as {clip}',
  'result.bodyNobody': 'nobody found',
  'result.bodyRead': 'read',
  'result.bodyProposed': 'read, moments proposed',
  'result.followed': 'found on {n} of {all} frames',
  'result.inOrder': 'everything was in order',
  'result.madeAgain': '{n} working copies and pictures made again',
  'result.broughtBack': '{n, plural, one {# clip} other {# clips}} brought back',
  'result.lost':
    '{n, plural, one {# clip is} other {# clips are}} nowhere to be found: not set aside, not in a backup that is at hand',
  'result.taken':
    '{lessons, plural, one {# lesson} other {# lessons}} with {clips, plural, one {# clip} other {# clips}} taken in',
  'result.takenRestHere':
    '{lessons, plural, one {# lesson} other {# lessons}} with {clips, plural, one {# clip} other {# clips}} taken in; {left, plural, one {# lesson was} other {# lessons were}} here already',
  'result.nothingNew':
    'nothing new: {lessons, plural, one {this lesson is} other {these lessons are}} here already',

  // What can't be read of a clip that was taken in.
  'clip.endMissing':
    'its end is missing: {seconds} s of {stated} s can be read (copy it from the camera again)',
  'clip.breaksOff': 'its end is missing: it breaks off after {seconds} s, and does not say how much is gone',
  'clip.damaged':
    '{n} of its {all} pictures {n, plural, one {is} other {are}} damaged; don’t measure on those',
  'clip.interlaced':
    'it is interlaced: each picture is two halves {ms} ms apart, so whatever moves fast has combed edges (set the camera to progressive, “p”)',
  'clip.commaAnd': '{first}, and {second}',

  // Why a file was set aside.
  'aside.clip': 'no lesson speaks of this clip',
  'aside.talk': 'no lesson speaks of this talk-through',
  'aside.removed': 'it was removed from its lesson',
  'aside.bytes': 'its bytes were no longer those of the clip',
  'aside.found': 'it was found here',
  'aside.records': 'these records could not be read',
  'aside.unspoken': 'Clips that the records no longer spoke of',
  'aside.unknownPeople': 'Who is in them is not known',

  // What a check finds.
  'check.program': '{name} {version}, from {from}: {file}',
  'check.oldProgram':
    '{name} {version}, from {from}: {file} (old: it crashes on some damaged files; README says how to get a newer one)',
  'check.integrity': 'database integrity: {answer}',
  'check.references': 'references between records: ok',
  'check.brokenReferences': 'references between records: {n} broken',
  'check.clipMissing': 'clip file missing: {clip}',
  'check.clipDiffers': 'clip file differs from its hash: {clip}',
  'check.partsMissing': '{parts} missing, can be made again: {clip}',
  'check.clipFiles': 'clip files against their hashes: {good} of {all} in order',
  'check.talkMissing': 'talk-through missing: {talk}',
  'check.pictureMissing': 'picture of the coach’s missing: {file}',
  'check.setAside':
    'set aside: {files, plural, one {# file} other {# files}} ({megabytes} MB) that no lesson speaks of',
  'check.nothingSetAside': 'set aside: nothing',
  'check.lastBackup': 'last backup: {day}',
  'check.noBackup': 'no backup has been made yet (leadside backup FOLDER)',
  'check.clipOf': '{clip} ({student}, {day})',

  // What a deletion could not take away.
  'stays.copy': 'this copy of the library can’t be rewritten ({reason}); delete it yourself',
  'stays.refused': 'it can’t be deleted ({reason})',
  'stays.changed': 'it is not as it was written; look at it yourself',
  'stays.package': 'a package that was written; it was not to be deleted',
  'stays.lessonFile': 'a lesson file for a colleague; it was not to be deleted',
  'stays.backup':
    'this backup still holds it: it could not be reached or rewritten; delete the file yourself',

  // What a lesson file is given without.
  'leftOut.comparison': 'the comparison “{name}”: it shows a lesson that is not given',
  'leftOut.facePhoto': 'a photo of a club’s face whose picture is gone',
  'leftOut.followed': 'the way of a followed point',
  'leftOut.drawing': 'a drawing that this version can’t read',
  'taken.noLimits': 'Not given along by the colleague: ask about injuries and pain before planning practice',

  // Why a file of a live lesson waits.
  'waits.empty': 'is empty so far',
  'waits.written': 'is being written',
  'waits.incomplete': 'is not complete yet',
} as const
