import { windowWords } from './window-words.ts'

/** Words of the composer of the hand-over. */
export const handOverWords = windowWords({
  // AddSwings
  swingsInHandOver: 'Swings in the hand-over',
  noClipsYet: 'This lesson has no clips yet. Add them on the Desk; then they can go in here.',
  onlyStarredSwings: 'Only starred swings',
  noneStarred: 'No swing is starred in this lesson.',
  noClip: 'no clip',
  starred: 'starred',

  // CoachPicture
  anotherLogo: 'Another logo…',
  chooseLogo: 'Choose a logo…',
  withoutLogo: 'Go without a logo',
  anotherPicture: 'Another picture or clip…',
  choosePicture: 'Choose a picture or clip…',
  withoutPicture: 'Go without a picture or clip',
  beingTakenIn: 'being taken in…',

  // ComparisonsPart
  noComparisonYet:
    'No comparison is kept with this lesson. On the Desk, set two swings side by side with K and keep them; then they can go in as one clip.',
  laidOver: '{second} laid over {first}, together at {moment}',
  beside: '{first} beside {second}, together at {moment}',
  allMomentsTheyShare: 'all moments they share',
  lacksMoment:
    'One of the two has no {lockedOn} marked, so this can’t be written. Mark {lockedOn} on both, or leave it out.',

  // DrillEditor
  usualCaution: 'Warm up first. Stop at once if anything hurts. Check the space around you.',
  editDrill: 'Edit the drill',
  newDrill: 'New drill',
  yesDeleteDrill: 'Yes, delete this drill',
  delete: 'Delete…',
  keepDrill: 'Keep the drill',
  purpose: 'Purpose: what it is for',
  cuesServed: 'Cues it serves',
  cuesServedHint: 'Cues it serves; it is offered first when one of them was tagged',
  how: 'How',
  doseOfDrill: 'Dose: how much, how often',
  watchFor: 'Watch for',
  caution: 'Caution',
  drillPicture: 'Picture or clip of the drill',
  drillPictureHint:
    'Stands with the drill on the student’s page. A clip of up to a minute goes without its sound. Whoever is seen in it must have agreed.',
  loadsBodyDrill:
    'Loads the body: fast, heavy or many swings. A student’s limits are raised when it is chosen.',

  // DrillPicker
  chooseDrill: 'Choose a drill',
  writeNewDrill: 'New drill…',
  searchDrills: 'Search the drills',
  searchHint: 'Search by name, purpose or words',
  forThisLesson: 'For what was seen in this lesson',
  yourOtherDrills: 'Your other drills',
  yourDrills: 'Your drills',
  noDrillsYet: 'You have no drills yet. Write one; it is kept for every student.',
  noneFound: 'No drill has these words.',
  loadsBody: 'loads the body',
  inPlan: 'in the plan',
  editName: 'Edit {name}',
  takeInName: 'Take in {name}',
  serves: 'Serves: {serves}',

  // FindingsPart
  findings: 'Findings',
  onlyMainOnes: 'Only the main ones',
  showMore: 'Show {findings} more',
  findingsFailed: 'The findings can’t be computed: {failed}',
  findingsComing: 'The findings are being computed…',
  noFindings: 'Findings come from shot records. Add them on the Desk, or say in your message what you saw.',
  findingIn: 'In the hand-over: {sentence}',
  sentenceOf: 'Sentence of finding {number}',
  leftOut: 'Left out. ',
  howSure: 'How sure: {howSure}',
  yourWords: 'your words',
  backToToolsWords: 'Back to the tool’s words',
  toolSays: 'The tool says: {sentence}',
  cautionGoesWithIt: 'Its caution goes with it: {caution}',

  // HandOver
  opening: 'Opening the hand-over…',
  soFar: ', {size} so far',
  backToDesk: 'Back to the Desk',
  handOver: 'Hand-over',
  whatIsShown: 'What is shown',
  compose: 'Compose',
  phone: 'Phone',
  whereTo: 'Where to, which clips…',
  notSaved: 'Not saved',
  saveAgain: 'Save again',
  saved: 'Saved',
  saving: 'Saving…',
  lastPlan: 'Last plan',
  message: 'Message',
  swings: 'Swings',
  talkthroughs: 'Talk-throughs',
  practice: 'Practice',
  next: 'Next',
  look: 'Look',
  written: 'Written',
  partsOf: 'Parts of the hand-over',
  needsConsent: '{needsConsent}. Without it, writing asks for an explicit yes.',
  studentsCard: 'Student’s card…',

  // LoadingAlert
  thisItemFirst: 'This item',
  quoted: '“{name}”',
  rightFor: 'Is this right for {name}?',
  leaveOutTakeRest: 'Leave {count, plural, one {it} other {them}} out, take the rest',
  leaveOut: 'Leave {count, plural, one {it} other {them}} out',
  takeInAllTheSame: 'Take {count, plural, one {it} other {them}} in all the same',
  loadTheBody: '{names} {count, plural, one {loads} other {load}} the body.',
  limitsOnCard: 'Limits on {name}’s card',
  minorOnlyWith: '{name} is a minor: only with an adult present, slow build-up, and a guardian who knows.',
  withInjuryOrPain:
    'With an injury or pain, a medical professional decides what the body may do. This tool doesn’t. If you take {count, plural, one {it} other {them}} in, the plan keeps that you were told.',

  // ManageTemplates
  yourTemplates: 'Your templates',
  noTemplateLeft: 'There is no template any more.',
  toChangeTemplate:
    'To change what a template says, apply it, edit the message, and save it again under the same name.',
  nameOfTemplate: 'Name of the template {name}',
  deleteNamed: 'Delete {name}',
  nameTaken: 'Another template is called “{taken}” already; this one stays “{name}”.',
  deleteTemplate: 'Delete “{name}”? Its message can’t be brought back.',
  yesDeleteIt: 'Yes, delete it',
  keepIt: 'Keep it',

  // MessagePart
  messageTo: 'Message to {name}',
  messageHint:
    'What {name} should read first: what went well, the one thing to keep, what comes next. An empty line begins a new paragraph.',

  // MoveButtons
  move: 'Move {what}',
  moveUp: 'Move {what} up',
  moveDown: 'Move {what} down',

  // NextPart
  nextLesson: 'Next lesson',
  nextFocus: 'Focus of the next lesson',
  nextFocusHint: 'For example: the firm lead side at full speed',

  // OptionsPart
  petrol: 'Petrol',
  moss: 'Moss',
  brass: 'Brass',
  brick: 'Brick',
  plum: 'Plum',
  slate: 'Slate',
  lines1080: '1080 lines',
  lines720: '720, smaller',
  clipsAndLook: 'Clips and look',
  clipSpeed: 'Speed of the clips',
  clipSpeedHint: 'of real speed, also for clips the camera stretched',
  clipSizeHint: 'at most; a smaller clip stays as it is',
  yourName: 'Your name on the page',
  yourNameHint: 'Empty: no name',
  colour: 'Colour of the page',
  ownColour: 'A colour of your own',
  own: 'own',
  yourLogo: 'Your logo',
  logoHint: 'PNG or JPEG; at the head of the page and of the PDF',
  keepLook: 'Name, colour and logo for new hand-overs, too',
  lookKept: 'New hand-overs start with this name, colour and logo',
  tooFaint: 'Too faint on a {light} screen: the page takes this one there.',

  // PhonePreview
  preview: 'Preview',
  onPhone: 'On the phone',
  beingMade: 'being made…',
  picturesComing: 'pictures on their way…',
  notUpToDate: 'not up to date',
  phoneIsSetTo: 'The phone is set to',
  previewFailed: 'The preview can’t be shown: {what}{where}. {toDo}',
  onlyPreviewMissing: 'The hand-over is saved; only its preview is missing.',
  pageBeingMade: 'The page is being made…',
  studentsPage: 'The student’s page',

  // PlanPart
  practicePlan: 'Practice plan',
  inHandOver: 'In the hand-over',
  nothingToPractise:
    'Nothing to practise yet. Take in a drill: those that serve what you tagged and what the numbers say come first.',
  chooseDrillNow: 'Choose a drill…',
  addOwnItem: 'Add an item of your own',
  howToGoAboutIt: 'How to go about it',
  howToGoAboutItHint: 'Days, order, how long, when to write to you',
  standingCautions: 'Cautions that stand with every plan',
  limitsOf: 'Limits of {name}: {limits}',
  minorPractise: '{name} is a minor: practise with an adult present.',
  thisItem: 'this item',
  closeItem: 'Close {name}',
  ownItem: 'An item of your own',
  takeItemOut: 'Take {name} out',
  ownItemHint: 'For example: ten putts from one step, eyes closed',
  dose: 'Dose',
  loadsBodyItem: 'Loads the body: fast, heavy or many swings',
  looksLike: 'What {name} looks like',
  watchForThis: 'Watch for: {watchFor}',
  aMinor: 'a minor',
  tookInKnowing: 'You took it in on {day} knowing of the card: {knew}',

  // SwingsPart
  addOrRemoveSwings: 'Add or remove swings…',
  starredNotIn: '{swings, plural, one {A starred swing is} other {# starred swings are}} not in yet.',
  takeStarredIn: 'Take {swings, plural, one {it} other {them}} in',
  noSwingYet:
    'No swing goes in yet. Star swings on the Desk with S, or add them here; each comes with its drawings and cues.',
  swingGone: 'This swing is not in the lesson any more; the package can’t be written with it.',
  takeItOut: 'Take it out',
  drag: 'Drag to another place',
  takeSwingOut: 'Take {what} out',
  captionOf: 'Caption of {what}',
  captionHint: 'What to look at here, in your words',
  momentsShown: 'Moments shown of {what}',
  noMoments: 'No moments are marked on this swing; mark them on the Desk with 1 to 7.',
  slowMotionClip: 'Slow-motion clip',
  ofSwing: 'of {what}',
  holdsOnMoments: ' that holds on the moments chosen',
  leftOutStillsOnly: ' left out: the stills only',

  // TalksPart
  noTalkYet: 'None yet. On the Desk, {keys} opens the recorder: your voice to the pictures, as one clip.',
  talkFailed: '“{label}” could not be made: {what}{where}. {toDo}',
  talkBeingMade: '“{label}” is being made: {step}',
  waiting: 'waiting',
  deleteRecording: 'Delete this recording for good? Packages already written keep it.',

  // Templates
  templateApplied: '“{name}” applied',
  templates: 'Templates',
  noTemplateYet: 'No template yet',
  saveAsTemplate: 'Save as a template…',
  renameOrDelete: 'Rename or delete…',
  applyTemplate: 'Apply “{name}”',
  replaceMine: 'Replace mine',
  putItBelow: 'Put it below mine',
  keepMine: 'Keep mine',
  messageThere: 'You have written a message already. The template brings this one:',
  otherChoices:
    'Its other choices are taken in any case: clips at 1/{slowBy} of real speed, {maxHeight} lines, {plan}.',
  withPlan: 'with the practice plan',
  withoutPlan: 'without the practice plan',
  templateSaved: 'Template “{name}” saved',
  saveTemplateTitle: 'Save as a template',
  replaceTemplate: 'Replace the template',
  save: 'Save',
  templateName: 'Name of the template',
  willBeReplaced: 'There is a template of this name; it will be replaced.',
  templateMessage: 'Its message; take out what belongs to this student only',
  alsoKeeps: 'It also keeps: clips at 1/{slowBy} of real speed, {maxHeight} lines, {plan}.',

  // WrittenPart
  writtenSoFar: 'Written so far',
  nothingWritten:
    'Nothing yet. A package you write is listed here and stays as it was sent; a later one is a new one.',
  showInFolder: 'Show in its folder',
  withoutRecordedConsent: 'Without recorded consent; {consentSaidBy} said yes.',
  writingFailed:
    'The package could not be written: {what}{where}. {toDo} Nothing half-written was left behind.',
  beingWritten: 'Being written: {step}',
  writing: 'Writing',

  // plan-edits
  shortOfStrike: 'short of strike',
  shortOfSpeed: 'short of speed',
  whereStruck: 'where it is struck on the face',
  playSpeed: 'play speed',
})
