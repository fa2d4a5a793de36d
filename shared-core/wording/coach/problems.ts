/**
 * What the coach is told of a problem, in English, as ICU messages: `what` happened (a sentence without a full stop), and what
 * is `toDo` now. A key is the problem's code and, where a code has several sentences, a dot and which.
 */
export const problems = {
  'air-out-of-range': {
    what: '{name} of {value} {unit} is outside {low} to {high} {unit}',
    toDo: 'Check the value and its unit',
  },
  'backup-cut-off': {
    what: 'writing this backup was cut off, and it can’t be put right where it lies',
    toDo: 'Copy the file, and the one with “-journal” behind its name, to a folder that can be written to, and open it there',
  },
  'backup-damaged.outside': { what: 'this backup names a file outside the library' },
  'backup-damaged.part': {
    what: 'a part of this backup is damaged',
    toDo: 'Choose an earlier backup, or one in another place',
  },
  'backup-damaged.readBack': {
    what: 'the backup could not be read back ({reason})',
    toDo: 'Choose another folder; this drive may be failing',
  },
  'backup-damaged.records': { what: 'the records in this backup are damaged ({reason})' },
  'backup-newer.file': {
    what: 'this backup was written by a newer Leadside',
    toDo: 'Update Leadside; the backup was not touched',
  },
  'backup-newer.snapshot': {
    what: 'this backup was made by a newer Leadside',
    toDo: 'Update Leadside; nothing was changed',
  },
  'bad-input.comparisonElsewhere': {
    what: 'neither swing is of this lesson',
    toDo: 'Keep the comparison in the lesson of one of the two',
  },
  'bad-input.notOneRun': {
    what: 'a block is a run of swings of one block',
    toDo: 'Choose swings that follow each other in one block',
  },
  'bad-input.photoElsewhere': { what: 'this photo is of another lesson' },
  'bad-input.faceIsNoStill': { what: 'a photo of the face is a still picture of its lesson' },
  'bad-input.isFilm': { what: 'this is a film, not a still picture' },
  'bad-input.said': { what: '{message}' },
  'bad-input.shotElsewhere': { what: 'this shot is of another lesson' },
  'bad-input.swingElsewhere': { what: 'this swing is of another lesson' },
  'bad-input.twoLessons': { what: 'only two swings of one lesson can be joined' },
  'bad-option': { what: '{name} of {value} {unit} is out of range ({low} to {high})' },
  'bad-picture.clipTooLarge': {
    what: 'this clip is larger than 400 MB',
    toDo: 'Cut out the part that shows the drill',
  },
  'bad-picture.clipTooLong': {
    what: 'this clip is longer than a minute',
    toDo: 'Cut out the part that shows the drill',
  },
  'bad-picture.fileTooLarge': {
    what: 'this picture file is larger than 30 MB',
    toDo: 'Save it smaller, and choose it again',
  },
  'bad-picture.givenIsNone': { what: 'this is no PNG or JPEG picture', toDo: 'Ask for it again' },
  'bad-picture.givenSize': {
    what: 'this picture has another size than was said of it',
    toDo: 'Ask for it again',
  },
  'bad-picture.logoIsNone': {
    what: 'a logo must be a PNG or JPEG picture',
    toDo: 'Save it as one of these, and choose it again',
  },
  'bad-picture.heic': {
    what: 'the ffmpeg in use can’t read this HEIC picture',
    toDo: 'Save it as JPEG, and add that',
  },
  'bad-picture.stillFileTooLarge': {
    what: 'this picture file is larger than 60 MB',
    toDo: 'Save it smaller, and add that',
  },
  'bad-picture.stillTooLarge': {
    what: 'this picture has too many pixels',
    toDo: 'Save it smaller, and add that',
  },
  'bad-picture.unreadable': {
    what: 'this file holds no picture that can be read',
    toDo: 'Save it as JPEG or PNG, and add that',
  },
  'bad-picture.noFile': { what: 'this is not a file', toDo: 'Choose a picture or a clip' },
  'bad-picture.tooLarge': {
    what: 'this picture is too large',
    toDo: 'Save it with fewer pixels, and choose it again',
  },
  'bad-sample-rate': { what: 'A sample rate of {rate} is not possible' },
  'bad-timeline.backwards': {
    what: 'the recording’s pictures go back in time',
    toDo: 'Record the talk again',
  },
  'bad-timeline.empty': { what: 'there is nothing recorded yet' },
  'bug.call': { what: 'unexpected: {reason}', toDo: 'Please report this; nothing was lost' },
  'bug.job': { what: 'unexpected: {reason}' },
  'bug.thread': { what: '{reason}' },
  'bug.threadEnded': { what: '{thread} ended by itself' },
  'cannot-pair.bothHaveShots': {
    what: 'these two swings cannot be made one',
    toDo: 'Both have a shot. Take the shot off one of them first, in the Ledger',
  },
  'cannot-pair.noClip': {
    what: 'these two swings cannot be made one',
    toDo: 'A shot goes with a clip; neither of these has one',
  },
  'changed.file': { what: 'this file changed while it was backed up', toDo: 'Try again' },
  'changed.library': {
    what: 'something was deleted or changed each time while the backup was written',
    toDo: 'Make the backup once more; earlier ones are as they were',
  },
  'clip-damaged': {
    what: 'this file in the library is not as it was when it was taken in',
    toDo: 'Settings, “Backups and the library”: check every file, then make again what can be',
  },
  'clip-empty': { what: 'the file is empty', toDo: 'Copy it from the camera again' },
  'clip-missing': { what: 'there is no such file', toDo: 'Check the path, or connect the disk it is on' },
  'clip-no-picture': {
    what: 'the file has no picture, only sound or data',
    toDo: 'Choose the video file of the swing',
  },
  'clip-unreadable.list': {
    what: 'this is a list or a text, not a film itself',
    toDo: 'Choose the video file from the camera; the other clips are not affected',
  },
  'clip-unreadable.noFacts': { what: 'ffprobe said nothing sensible about the clip' },
  'clip-unreadable.noFrame': {
    what: 'the clip cannot be read: no frame of it can be decoded',
    toDo: 'Play the file to see whether it is whole, or copy it from the camera again',
  },
  'clip-unreadable.onStage': {
    what: "the picture can't be shown: {reason}",
    toDo: 'Add the clip again from the camera; its drawings and moments are kept',
  },
  'clip-unreadable.over': {
    what: 'the clip cannot be read: {limit}',
    toDo: 'Play the file to see whether it is whole, or save it anew',
  },
  'clip-unreadable.said': {
    what: 'the clip cannot be read: {reason}',
    toDo: 'Play the file to see whether it is whole, or copy it from the camera again',
  },
  'damaged-shape.noKind': { what: 'A drawing has no kind or no version' },
  'damaged-shape.unreadable': { what: 'A drawing ({shape}) cannot be read: {reason}' },
  'cut-off': {
    what: 'the program ended {times, plural, one {# time} other {# times}} while this was under way',
    toDo: 'Nothing was half done; try it again',
  },
  'cut-off.backup': {
    what: 'this was under way when the backup was made',
    toDo: 'Try it again if it is still wanted',
  },
  'demo.clip': { what: 'the demo lesson names a clip that was not taken in' },
  'demo.earlierBlock': { what: 'an earlier demo lesson has lost a block' },
  'demo.earlierClip': { what: 'an earlier demo lesson has lost a clip' },
  'demo.shape': { what: 'the demo lesson has an unknown shape "{shape}"' },
  'disk-full.backup': {
    what: 'there is no room for the backup',
    toDo: 'Free some space there, or choose another folder. Earlier backups are as they were',
  },
  'disk-full.brokenOff': {
    what: 'there is no room on the disk; {doing} was broken off',
    toDo: 'Free some disk space and try again',
  },
  'disk-full.clip': {
    what: 'there is no room on the disk for this clip',
    toDo: 'Free some disk space and try again',
  },
  'disk-full.deleting': {
    what: 'the disk is so full that nothing can be deleted from the library',
    toDo: 'Free a little space on it (empty the bin), then delete again',
  },
  'disk-full.lessonFile': {
    what: 'there is no room for the lesson file',
    toDo: 'Free some disk space, or choose another folder',
  },
  'disk-full.moving': {
    what: 'there is no room for the library there',
    toDo: 'Choose another folder; the library is where it was',
  },
  'disk-full.opening': {
    what: 'there is no room left on the disk of the library, so it can’t be opened',
    toDo: 'Free some disk space, then start again. Everything saved before is safe',
  },
  'disk-full.package': {
    what: 'there is no room on the disk for the package',
    toDo: 'Free some disk space, or choose another folder',
  },
  'disk-full.restoring': {
    what: 'there is no room to restore this backup',
    toDo: 'Free some disk space, or choose another folder. The library there was not touched',
  },
  'disk-full.saving': {
    what: 'there is no room left on the disk of the library; this was not saved',
    toDo: 'Free some disk space, then do it once more. Everything saved before is safe',
  },
  'disk-full.taking': {
    what: 'there is no room on the disk for these lessons',
    toDo: 'Free some disk space and try again; nothing was taken in',
  },
  'empty-block': { what: 'the block already begins here', toDo: 'Choose a later swing' },
  'file-empty': { what: 'this file is empty', toDo: 'Copy it from the camera again' },
  'file-gone': {
    what: 'the file is no longer there',
    toDo: 'Plug the camera or card in again, then try again',
  },
  'first-block': { what: 'the first block has none before it to join' },
  'flight-endless': { what: 'this ball does not come down', toDo: 'Check the wind and the spin' },
  'flight-input': {
    what: '{name} of {value} {unit} is outside {low} to {high} {unit}',
    toDo: 'Check the value and its unit',
  },
  'folder-gone': {
    what: 'the folder of the library is not there any more; this was not saved',
    toDo: 'Connect the drive again, or put the folder back where it was; the work goes on by itself then',
  },
  'frame-size': { what: 'Frame {frame} has another size than the frames before it' },
  'frames-differ': {
    what: 'this clip has {frames, plural, one {# frame} other {# frames}} here and {wanted} in the file',
    toDo: 'Marks and drawings would stand on other frames, so nothing was taken in. A newer ffmpeg may help: see “leadside check”',
  },
  'gone.chosenSwing': {
    what: 'a swing chosen for the hand-over is no longer there',
    toDo: 'Take it out of the hand-over, or undo its removal',
  },
  'gone.clip': { what: 'this clip is no longer there' },
  'gone.clipMeanwhile': {
    what: 'the same clip was deleted while this one was taken in',
    toDo: 'Try it again',
  },
  'gone.followedPoint': { what: 'this followed point is no longer there' },
  'gone.picture': { what: 'this picture is no longer there' },
  'gone.record': {
    what: 'this {record} is no longer there',
    toDo: 'It may have been removed in another window',
  },
  'gone.setAside': { what: 'this file is no longer among those set aside' },
  'gone.swing': { what: 'this swing is no longer there', toDo: 'Choose another one' },
  'gone.swingOfFrame': { what: 'the swing of this frame is no longer there' },
  'gone.swingsClip': { what: 'this swing’s clip is no longer there' },
  'gone.talkSwing': {
    what: 'a swing that the talk shows is no longer there',
    toDo: 'Undo its removal and try again',
  },
  'job-elsewhere': { what: 'another Leadside on this library is doing this', toDo: 'Stop it there' },
  journal: { what: 'unknown table {table} in the undo history' },
  'last-mark': {
    what: 'this is the only mark of the {point}',
    toDo: 'Remove the followed point, or mark it on another frame first',
  },
  'lesson-file-damaged': {
    what: 'this lesson file is damaged or was made by something else: {fault}',
    toDo: 'Ask your colleague to send it again; nothing was changed here',
  },
  'lesson-file-newer': {
    what: 'this lesson file was written by a newer Leadside (form {found}; this one reads up to {newest})',
    toDo: 'Update Leadside, or ask your colleague for a file from an older one; nothing was changed here',
  },
  'lesson-known': {
    what: 'another copy of this lesson is here already',
    toDo: 'Take it in beside the one that is here, or leave it; nothing was changed',
  },
  'library-busy': {
    what: 'another program kept the library busy for too long; this was not saved',
    toDo: 'Close the other program, then do it once more',
  },
  'library-damaged.backup': {
    what: 'the library’s records are damaged ({reason})',
    toDo: 'Restore an earlier backup; this one was not made',
  },
  'library-damaged.saving': {
    what: 'the library’s records are damaged; this was not saved',
    toDo: 'Close Leadside, start it again and restore a backup',
  },
  'library-disk': {
    what: 'the disk of the library can’t be read or written just now; this was not saved',
    toDo: 'Check that the drive is connected, then do it once more. Everything saved before is safe',
  },
  'library-ended': {
    what: 'the library process has ended',
    toDo: 'Close Leadside and start it again; every saved edit is there',
  },
  'library-in-use.moving': {
    what: 'this library is open in another Leadside',
    toDo: 'Close it there, then move it',
  },
  'library-in-use.restoring': {
    what: 'this library is open in another Leadside',
    toDo: 'Close it there, then restore',
  },
  'library-newer': {
    what: 'this library was written by a newer Leadside (schema {found}; this one knows {newest})',
    toDo: 'Update Leadside, or choose another library folder. Nothing was changed',
  },
  'library-read-only': {
    what: 'the library can’t be written to; this was not saved',
    toDo: 'Check the folder’s permissions',
  },
  'library-trouble': {
    what: '{trouble}',
    toDo: 'Nothing was deleted. Restore a backup (leadside restore FILE), or rebuild from the files (leadside rebuild); leadside check only looks',
  },
  'library-unreadable': {
    what: "the library can't be opened ({reason})",
    toDo: 'Check that the folder is writable and the file is a Leadside library, or choose another folder',
  },
  'look-only': {
    what: '{trouble}',
    toDo: 'Restore a backup, or rebuild from the files, before anything is changed. Nothing was deleted',
  },
  'made-elsewhere.redo': {
    what: 'the last step (“{step}”) was made in another window',
    toDo: 'Look at it first; redo once more to go over it all the same',
  },
  'made-elsewhere.undo': {
    what: 'the last step (“{step}”) was made in another window',
    toDo: 'Look at it first; undo once more to go over it all the same',
  },
  'media.crash': {
    what: '{doing} failed: the {program} in use crashes on this file',
    toDo: 'Install a newer ffmpeg ("leadside check" tells which is in use), or save the clip as MP4; the other clips are not affected',
  },
  'media.over': {
    what: '{doing} failed: {limit}',
    toDo: 'Check that the file plays elsewhere, and save it anew; the other clips are not affected',
  },
  'media.said': {
    what: '{doing} failed (ffmpeg: {reason})',
    toDo: 'Check that the file plays elsewhere; the other clips are not affected',
  },
  'move-differs': {
    what: 'a file came out different on the other disk',
    toDo: 'Choose another disk; the library is where it was',
  },
  'name-differs': {
    what: 'the typed name is not the student’s name',
    toDo: 'Type "{name}" to delete everything about this student',
  },
  'newer-shape': {
    what: 'A drawing ({shape}) was made by a newer Leadside',
    toDo: 'Open the lesson with a newer Leadside to see it; it is kept',
  },
  'no-backup': {
    what: 'there is no such backup in this file',
    toDo: 'List what is in it, and choose another',
  },
  'no-call.hostOnly': { what: '"{name}" is answered by the library’s process' },
  'no-call.unknown': { what: 'there is no call "{name}"' },
  'no-consent.giving': {
    what: '{reason}',
    toDo: 'Ask the student (for a minor, a guardian), and record the answer on the student’s card; nothing was written',
  },
  'no-consent.package': {
    what: '{reason}',
    toDo: 'Record the consent on the student’s card, or say who agrees to this package',
  },
  'no-consent.taking': {
    what: '{reason} (so it says in this lesson file)',
    toDo: 'Ask your colleague for a file with a valid consent; nothing was taken in',
  },
  'no-cue-kind': { what: 'there is no cue "{kind}"', toDo: 'Add it to the list of cues first' },
  'no-demo': { what: 'the demo lesson’s files are not there', toDo: 'Run npm run demo-media to make them' },
  'no-ffmpeg.found': {
    what: 'no working {program} was found',
    toDo: 'Install ffmpeg (on Debian: apt-get install ffmpeg), or set FFMPEG_PATH or the ffmpeg setting to it',
  },
  'no-ffmpeg.start': {
    what: '{program} could not be started',
    toDo: 'Run "leadside check" to see which ffmpeg is in use',
  },
  'no-file.clip': {
    what: 'the file of this clip is missing in the library',
    toDo: 'Add the clip again, or take its swing out of the hand-over',
  },
  'no-file.talk': {
    what: 'the file of a talk-through is missing',
    toDo: 'Take it out of the hand-over, or record it again',
  },
  'no-file.lessonFile': {
    what: 'this file is not there',
    toDo: 'Choose the lesson file that your colleague sent',
  },
  'no-file.path': { what: 'this file is not there' },
  'no-folder': {
    what: 'the folder of clips {reason}',
    toDo: 'Choose the folder that the camera’s clips arrive in',
  },
  'no-frame.clip': { what: 'the clip has frames 0 to {last}, not {frame}' },
  'no-frame.cut': { what: 'the cut must lie inside the swing (frames {first} to {last})' },
  'no-frame.followed': { what: 'the {point} is followed on frames {first} to {last}, not {frame}' },
  'no-frame.mark': { what: 'frame {frame} is not between {first} and {last}' },
  'no-job': { what: 'there is no such job any more' },
  'no-lesson.any': { what: 'there is no such lesson', toDo: 'List the lessons to see their ids' },
  'no-lesson.deletedBeforePicture': { what: 'the lesson was deleted while the picture was taken in' },
  'no-lesson.deletedMeanwhile': { what: 'the lesson was deleted while the clip was taken in' },
  'no-lesson.named': { what: 'there is no lesson "{text}"', toDo: 'Run leadside lesson list to see the ids' },
  'no-lesson.ofStudent': { what: 'there is no such lesson of this student', toDo: 'Choose the lesson again' },
  'no-lesson.several': {
    what: 'several lessons begin with "{text}"',
    toDo: 'Run leadside lesson list to see the ids',
  },
  'no-microphone.inUse': {
    what: 'the microphone can’t be opened',
    toDo: 'Another program may be using it; close that, and try again',
  },
  'no-microphone.none': { what: 'there is no microphone', toDo: 'Connect one, and try again' },
  'no-microphone.notAllowed': {
    what: 'the microphone is not allowed',
    toDo: 'Allow Leadside to use it in the system’s privacy settings, and try again',
  },
  'no-microphone.said': {
    what: 'the microphone can’t be used ({reason})',
    toDo: 'Check it in the system’s settings, and try again',
  },
  'no-model': {
    what: 'the weights that find body points are not installed',
    toDo: 'Install Leadside again; everything else works without them',
  },
  'no-moment.crossing': {
    what: '"{title}" is locked on {moment}, which comes before another moment on one swing and after it on the other',
    toDo: 'Check the order of the moments on both swings, or take the comparison out',
  },
  'no-moment.lacking': {
    what: '"{title}" is locked on {moment}, which one of its swings does not have',
    toDo: 'Mark {moment} on both swings, or take the comparison out',
  },
  'no-pdf': { what: 'printing failed: {reason}' },
  'no-room': {
    what: 'there is no room left on the disk',
    toDo: 'Free some disk space and try again; the recording is kept',
  },
  'no-shots.noRows': {
    what: 'this file has column names but no shots below them',
    toDo: 'Export the shots from the device again; nothing was added',
  },
  'no-shots.unusable': {
    what: '{count, plural, one {the one line of this file has no usable number of a shot} other {none of the # lines of this file has a usable number of a shot}}',
    toDo: 'Check that its columns are those of a launch monitor, or say what they are; nothing was added',
  },
  'no-sound.clip': { what: 'this clip has no sound' },
  'no-sound.recording': {
    what: 'the recording holds no sound',
    toDo: 'Check that a microphone is connected and allowed, and record the talk again',
  },
  'no-sound.recordingGone': { what: 'the recording is no longer there', toDo: 'Record the talk again' },
  'no-student.any': { what: 'there is no such student', toDo: 'List the students to see their ids' },
  'no-student.named': {
    what: 'there is no student "{text}"',
    toDo: 'Add one with leadside student add NAME --side right|left',
  },
  'no-student.several': { what: 'several students are called "{text}"', toDo: 'Use an id: {ids}' },
  'no-such-frame.outside': {
    what: 'there is no frame {frame} in this clip',
    toDo: 'Frames go from 0 to {last}',
  },
  'no-such-frame.undecodable': {
    what: 'frame {frame} cannot be decoded',
    toDo: 'The file may be cut short; copy it from the camera again',
  },
  'no-worker': { what: `this version can't do "{job}"` },
  'not-a-backup': {
    what: 'this file is not a Leadside backup, or it is damaged',
    toDo: 'Choose another backup',
  },
  'not-a-clip.list': {
    what: 'this is a list or a text, not a film itself',
    toDo: 'Choose the video file from the camera; the other clips are not affected',
  },
  'not-a-clip.noTimes': {
    what: 'the frames of this video carry no times',
    toDo: 'Save it as MP4 or MOV with the program it comes from',
  },
  'not-a-clip.noVideo': {
    what: 'this file holds no video',
    toDo: 'Choose a video file; the other clips are not affected',
  },
  'not-a-clip.oneFrame': {
    what: 'this video has fewer than two frames',
    toDo: 'The file may be cut short; copy it from the camera again',
  },
  'not-a-clip.otherKind': {
    what: 'this kind of file is not read here',
    toDo: 'Save a film as MP4 or MOV, a picture as JPEG or PNG; the other clips are not affected',
  },
  'not-a-clip.onlySound': {
    what: 'this file has sound but no picture',
    toDo: 'Choose a video file; the other clips are not affected',
  },
  'not-a-clip.still': {
    what: 'this is a still picture, not a video',
    toDo: 'Choose the video file; the other clips are not affected',
  },
  'not-a-clip.tooLarge': {
    what: 'its picture is too large ({width} × {height})',
    toDo: 'Save it smaller; 3840 × 2160 is more than enough',
  },
  'not-a-clip.tooLong': {
    what: 'by its own times this clip is longer than six hours',
    toDo: 'Cut out the part with the swings, and add that',
  },
  'not-a-clip.undecodable': {
    what: 'the picture in this file can’t be decoded; its start may be missing',
    toDo: 'Copy the whole file from the camera again',
  },
  'not-a-file.folder': { what: 'this is a folder', toDo: 'Choose the video files themselves' },
  'not-a-file.other': { what: 'this is not a file', toDo: 'Choose the video files themselves' },
  'not-a-lesson-file': {
    what: 'this is not a lesson file of Leadside, or it was cut short',
    toDo: 'Ask your colleague to send it again; nothing was changed here',
  },
  'not-a-library.choosing': {
    what: 'this folder holds something else than a library',
    toDo: 'Choose the folder of a library, or an empty one for a new library',
  },
  'not-a-library.restoring': {
    what: 'this folder holds something else than a library',
    toDo: 'Choose an empty folder, or the folder of a library',
  },
  'not-empty': { what: 'this folder is not empty', toDo: 'Choose or make an empty one' },
  'not-givable': {
    what: 'something in these lessons fits into no lesson file ({reason})',
    toDo: 'Make a backup, and report this; nothing was written',
  },
  'not-read-back': {
    what: 'the lesson file could not be read back as it was written',
    toDo: 'Choose another folder; this drive may be failing',
  },
  'not-readable.file': {
    what: "the file can't be read ({reason})",
    toDo: 'Check the file and its permissions',
  },
  'not-readable.missing': { what: 'there is no such file', toDo: 'Check the path and its permissions' },
  'not-readable.path': {
    what: "the file can't be read ({reason})",
    toDo: 'Check the path and its permissions',
  },
  'not-sound': { what: 'the library is not in order', toDo: 'See the lines marked LOOK' },
  'not-writable.backup': {
    what: 'the folder for the backup can’t be written to, or its drive is not there',
    toDo: 'Connect the drive, or choose another folder. Earlier backups are as they were',
  },
  'not-writable.folder': { what: 'this folder can’t be written to', toDo: 'Choose another folder' },
  'not-writable.moving': {
    what: 'the library can’t be put there',
    toDo: 'Choose another folder; the library is where it was',
  },
  'one-block': {
    what: 'there is only one block, so there is nothing to compare',
    toDo: 'Cut the lesson into blocks, or give the file a column named block',
  },
  'other-student.comparison': {
    what: 'only swings of the same student are set beside each other',
    toDo: 'Choose a swing from one of this student’s lessons: what is kept here may be handed over',
  },
  'other-student.talk': { what: 'the talk shows a swing of another student' },
  'pairing-fixed.noShot': {
    what: 'A fixed pair names a shot that is not in this lesson ({shot})',
    toDo: 'Take this pair back and set it again',
  },
  'pairing-fixed.noSwing': {
    what: 'A fixed pair names a swing that is not in this lesson ({swing})',
    toDo: 'Take this pair back and set it again',
  },
  'pairing-fixed.shotTwice': {
    what: 'Shot {shot} is fixed to two swings',
    toDo: 'Take this pair back and set it again',
  },
  'pairing-fixed.swingTwice': {
    what: 'Swing {swing} is fixed twice',
    toDo: 'Take this pair back and set it again',
  },
  'place-given': {
    what: 'the folder of the library is set by LEADSIDE_LIBRARY',
    toDo: 'Start Leadside without it to choose the folder here',
  },
  preview: { what: '{reason}' },
  print: { what: '{reason}' },
  'proxy-differs': {
    what: 'the working copy has {frames, plural, one {# frame} other {# frames}} instead of {wanted} (times differ by up to {worstMs} ms)',
    toDo: 'The file may be damaged; copy it from the camera again',
  },
  'quantity-unreadable': {
    what: '"{text}" is not a number with a unit',
    toDo: 'Write a number and a unit ({units}); without a unit it is read as {plain}',
  },
  'quantity-wrong-unit': {
    what: '"{unit}" is not a unit of {kind}',
    toDo: 'Write a number and a unit ({units}); without a unit it is read as {plain}',
  },
  recording: { what: 'the recording must be paused first' },
  refused: { what: 'this page may not use the library' },
  'same-place': { what: 'this is where the library is already', toDo: 'Choose a folder outside it' },
  'shot-row': { what: '{message}', toDo: 'The other rows were added' },
  'shots-binary.noText': {
    what: 'This is not a text file',
    toDo: 'Export the shots from the device or the spreadsheet as CSV or TSV and take that file',
  },
  'shots-binary.other': {
    what: 'This is {kind}, not a text file',
    toDo: 'Open it where it was made, save the table as CSV, and take that file',
  },
  'shots-delimiter': {
    what: 'Most lines have more cells than there are column names, as where decimal commas stand between commas',
    toDo: 'Save the table again with semicolons or tabs between the columns; nothing was read',
  },
  'shots-empty': {
    what: 'The file is empty',
    toDo: 'Export the shots from the device again and take that file',
  },
  'shots-mapping.dimension': { what: '"{unit}" is no unit of {dimension}', toDo: 'Use one of {units}' },
  'shots-mapping.metric': { what: '"{metric}" is no number of a shot', toDo: 'Use one of {metrics}' },
  'shots-mapping.noColumn': { what: 'The file has no column "{name}"', toDo: 'Its columns are: {columns}' },
  'shots-mapping.unit': { what: '"{unit}" is no unit for {metric}', toDo: 'Use one of {units}' },
  'shots-no-header': {
    what: 'No line with column names was found',
    toDo: 'Check that this is a table of shots with column names such as Club Speed, Ball Speed, Carry, or say what its columns are',
  },
  'some-failed.all': {
    what: 'none of the {all, plural, one {# clip} other {# clips}} could be taken in: {names}',
  },
  'some-failed.some': {
    what: '{failed} of {all, plural, one {# clip} other {# clips}} could not be taken in: {names}',
    toDo: 'The others were taken in',
  },
  'stopped.backup': { what: 'the backup was stopped' },
  'stopped.demo': { what: 'the demo was stopped' },
  'stopped.handOver': { what: 'the hand-over was stopped' },
  'stopped.lessonFile': { what: 'the lesson file was not finished' },
  'stopped.repair': { what: 'the repair was stopped' },
  'stopped.taking': { what: 'nothing was taken in' },
  'student-known': {
    what: '{name} is here already, by an earlier file',
    toDo: 'Say --student {id} to add the lessons there, or --new-student; nothing was changed',
  },
  'told.what': { what: '{what}' },
  'told.whatAndToDo': { what: '{what}', toDo: '{toDo}' },
  'too-large': {
    what: 'this file is too large for a table of shots',
    toDo: 'Export the lesson’s shots only',
  },
  'too-long.oneSwing': {
    what: 'this take is too long to be listened to as one swing',
    toDo: 'Cut the swing out of it first',
  },
  'too-long': { what: 'this take is too long to be listened to at once', toDo: 'Cut it into swings first' },
  'two-shots': { what: 'both swings have a shot of their own', toDo: 'Take the shot off one of them first' },
  'units-differ': { what: '{from} cannot be turned into {to}' },
  'unknown-shape': {
    what: 'A drawing is of a kind this Leadside does not know: {kind}',
    toDo: 'Open the lesson with a newer Leadside to see it; it is kept',
  },
  unsaved: {
    what: 'a talk-through of another lesson is not saved yet',
    toDo: 'Open that lesson, and save it there or throw it away',
  },
  'usage.date': { what: '"{text}" is not a date as YYYY-MM-DD' },
  'usage.frameRate': { what: '"{text}" is not a frame rate' },
  'usage.mark': {
    what: '"{text}" is not a frame and a place',
    toDo: 'Write frame:across,down in pixels of the picture, such as 40:512,380',
  },
  'usage.metric': { what: '"{name}" is not a metric', toDo: 'Choose from {metrics}' },
  'usage.number': { what: '"{text}" is not a number from {low} to {high}' },
  'usage.range': { what: '{value} is out of range ({low} to {high})' },
  what: { what: 'name either a lesson or, with --student, a student' },
} as const
