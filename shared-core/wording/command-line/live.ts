import { windowWords } from '../window/window-words.ts'

/** Words of the command line: live. */
export const liveTexts = windowWords({
  // live
  swingOrderShotNo: 'swing {order}: shot, no clip yet',
  swingOrderClipNo: 'swing {order}: clip, no shot yet',
  swingOrderClipAnd: 'swing {order}: clip and shot',
  impactAt: 'impact at frame {frame}',
  takeClipsAndShots: 'take clips and shots in as they arrive, pair them, and print each; Ctrl-C stops',
  idStartIdOr: 'id, the start of an id, or "last"',
  folderClipsArriveIn: 'folder that clips arrive in',
  fileDeviceWritesShots: 'file that the device writes shots to, or the folder of such files',
  alsoClipsInFolder: 'also the clips that are in the folder already',
  liveCtrlCStops: 'Live; Ctrl-C stops.',
  waitingForIt: '  {text}; waiting for it\n',
})
