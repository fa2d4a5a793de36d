import { BrowserWindow, dialog, shell } from 'electron'
import { mainWords } from '../../shared-core/wording/window/main.ts'

/** Opens a web address in the coach's browser, once the coach has seen it and said yes. */
export const askToOpen = async (window: BrowserWindow, url: string): Promise<void> => {
  if (!/^https?:/.test(url)) return
  const { response } = await dialog.showMessageBox(window, {
    type: 'question',
    buttons: [mainWords('openInBrowser'), mainWords('cancel')],
    defaultId: 1,
    cancelId: 1,
    title: mainWords('leadside'),
    message: mainWords('openAddress'),
    detail: mainWords('addressHint', { address: url }),
  })
  if (response === 0) await shell.openExternal(url)
}
