/**
 * Parts of sentences for the coach, in English, as ICU messages. A plural's own texts hold a blank or a `#`, and no places of
 * their own.
 */
export const phrases = {
  // Where it happened.
  'place.event': 'event {event}',
  'place.line': 'line {line}',
  'place.lineAndColumn': 'line {line}, {column}',
  'place.lineAndOthers': 'line {line} and others',
  'place.firstLines': 'the first {count} lines',
  'place.inFile': '{file}, {place}',

  // What a file is instead of a table.
  'file.zipped': 'a zipped file, probably a spreadsheet',
  'file.oldSpreadsheet': 'an old spreadsheet file',
  'file.pdf': 'a PDF',

  // Consent.
  'consent.own': 'consent',
  'consent.ofGuardian': 'consent of a guardian',
  'consent.toFilming': 'filming',
  'consent.toSharing': 'sharing',
  'consent.toBoth': 'filming and sharing',
  'consent.noneRecorded': '{student} has no recorded {whose} to {to}',
  'consent.recordedRanOut': 'the recorded {whose} of {student} ran out on {day}',
  'consent.notAGuardians': '{student} is a minor, and the recorded consent is not a guardian’s',
  'consent.shortNone': 'no consent to {to} recorded',
  'consent.shortRanOut': 'consent ran out on {day}',
  'consent.shortNoGuardian': 'no guardian’s consent recorded',
  'consent.notToKeeping':
    '{student} has no recorded consent to keeping clips, and a colleague would keep them',
  'consent.onlyCovered':
    'the films of {student} may be handed over only with the face covered, and a lesson file holds them as filmed',

  // What a program was run for.
  'doing.clip': 'writing the clip',
  'doing.comparison': 'writing the comparison',
  'doing.drillClip': 'making the drill’s clip',
  'doing.firstFrames': 'reading the first frames',
  'doing.frame': 'reading a frame',
  'doing.frames': 'reading the frames',
  'doing.picture': 'reading the picture',
  'doing.poster': 'making the poster',
  'doing.preparing': 'preparing the clip',
  'doing.reading': 'reading',
  'doing.recording': 'reading the recording',
  'doing.size': 'looking at the size',
  'doing.someFrames': 'reading frames',
  'doing.sound': 'reading the sound',
  'doing.thumbnails': 'making the thumbnails',
  'doing.talk': 'writing the talk-through',
  'doing.voice': 'evening out the voice',

  // What a media program said, or took too much of.
  'media.endMissing': 'its end is missing: recording or copying was broken off',
  'media.noReason': 'it gave no reason',
  'over.seconds': 'this takes far longer than a clip should, and was stopped',
  'over.memoryBytes': 'this file asks for more memory than a clip should, and was stopped',
  'over.outputBytes': 'this file unpacks to far more than a clip should, and was stopped',
  'thread.body': 'the thread that reads body points',
  'thread.follow': 'the thread that follows a point',

  // Why a folder or file of a live lesson is not read.
  'unread.missing': 'is not there',
  'unread.forbidden': 'may not be read',
  'unread.busy': 'is in use by another program',
  'unread.said': "can't be read ({reason})",
  'live.clipsFolder': 'The folder of clips {reason}',
  'live.shotsFile': 'The file of shots {reason}',

  // Records that are not in order.
  'trouble.missing':
    'the library’s records are missing; {clips, plural, one {# clip of it is} other {# clips of it are}} there',
  'trouble.damaged':
    'the library’s records can’t be read; {clips, plural, one {# clip of it is} other {# clips of it are}} there',
  'trouble.empty':
    'the library’s records are empty, but {clips, plural, one {# clip of it is} other {# clips of it are}} there',
  'trouble.older': 'the library’s records are older than they were when it was last open here',
  'trouble.olderThanFiles':
    'the library’s records are older than its files: {unknown} of {clips, plural, one {# clip} other {# clips}} {unknown, plural, one {is not} other {are not}} in them',

  // Records by their kinds.
  'record.lesson': 'lesson',
  'record.clip': 'clip',
  'record.shot': 'shot',
  'record.swing': 'swing',
  'record.block': 'block',
  'record.comparison': 'comparison',
  'record.photo': 'photo',
  'record.view': 'view',
  'record.moment': 'moment',
  'record.cue': 'cue',
  'record.drawing': 'drawing',
  'record.talk': 'talk-through',

  // What is wrong with a colleague's file.
  'fault.at': '{place}: {fault}',
  'fault.notAsItShouldBe': 'not as it should be',
  'fault.clipTwice': 'a clip twice in one lesson',
  'fault.clipWithoutFilm': 'a clip whose film is not in it',
  'fault.comparisonOfNoPicture': 'a comparison of no picture',
  'fault.comparisonOfOtherLessons': 'a comparison of other lessons',
  'fault.unknownCue': 'a cue of an unknown kind',
  'fault.drawingOutside': 'a drawing on frames that there are not',
  'fault.drawingOnNoMoment': 'a drawing on no moment',
  'fault.unreadableFile': 'a file that can’t be read',
  'fault.fileSize': '{file} has another size',
  'fault.fileMissing': '{file} is missing',
  'fault.unnamedFile': 'a file that no record names',
  'fault.fileChanged': '{file} is not what was written',
  'fault.filesInEachOther': 'files that lie in each other',
  'fault.stillOrFilm': 'a still picture that is a film, or a film of one frame',
  'fault.filmTwice': 'a film twice',
  'fault.recordsUnreadable': 'its records can’t be read',
  'fault.recordsContradict': 'its records contradict each other',
  'fault.recordsChanged': 'its records are not those that were written',
  'fault.recordsTooLarge': 'its records are too large',
  'fault.cueKindTwice': 'a kind of cue twice',
  'fault.lessonTwice': 'a lesson twice',
  'fault.momentOutside': 'a moment on a frame that there is not',
  'fault.momentTwice': 'a moment twice',
  'fault.pictureOutside': 'a picture of frames that there are not',
  'fault.pictureOfNoClip': 'a picture of no clip',
  'fault.pictureIsNone': 'a picture that is none',
  'fault.pictureMissing': 'a picture that is not in it',
  'fault.pictureTwice': 'a picture twice',
  'fault.bodyPointOutside': 'a point of the body on a frame that there is not',
  'fault.bodyPointsSize': 'points of the body of another size',
  'fault.bodyPointsNoFrames': 'points of the body on no frames',
  'fault.bodyPointsNone': 'points of the body that are none',
  'fault.shotTwice': 'a shot twice',
  'fault.swingOfNoBlock': 'a swing of no block',
  'fault.swingOfNoShot': 'a swing of no shot',
  'fault.tooManyFiles': 'too many files',
  'fault.sameNameTwice': 'two files of one name',
} as const
