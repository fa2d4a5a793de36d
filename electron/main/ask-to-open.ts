import { BrowserWindow, dialog, shell } from 'electron'

/** Opens a web address in the coach's browser, once the coach has seen it and said yes. */
export const askToOpen = async (window: BrowserWindow, url: string): Promise<void> => {
  if (!/^https?:/.test(url)) return
  const { response } = await dialog.showMessageBox(window, {
    type: 'question',
    buttons: ['Open in the browser', 'Cancel'],
    defaultId: 1,
    cancelId: 1,
    title: 'Leadside',
    message: 'Open this address in your browser?',
    detail: `${url}\n\nThe browser then talks to that address; Leadside itself does not.`,
  })
  if (response === 0) await shell.openExternal(url)
}
