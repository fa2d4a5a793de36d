import path from 'node:path'
import { app, BrowserWindow, nativeTheme } from 'electron'
import { drawnInSoftware } from '../../shared-core/contract/shell.ts'
import { pageOrigin } from './app-protocol.ts'
import { askToOpen } from './ask-to-open.ts'
import { isDrawnInSoftware } from './drawn-in-software.ts'
import { developmentUrl, quietWindow } from './quiet.ts'

/** Address of the page: the development server's, or the built one. */
const pageUrl = (lessonId: string | null) => {
  const base = developmentUrl ?? `${pageOrigin}/index.html`
  return lessonId ? `${base}#/lesson/${encodeURIComponent(lessonId)}` : base
}

/** True for pages that are ours; nothing else may talk to main. */
export const isOwnPage = (url: string): boolean => {
  return url.startsWith(`${pageOrigin}/`) || (developmentUrl !== undefined && url.startsWith(developmentUrl))
}

/** @param opened the window stays hidden until this has come, and for good if it brings a problem */
export const openWindow = async (
  lessonId: string | null = null,
  opened: Promise<unknown> = Promise.resolve(null),
): Promise<BrowserWindow> => {
  const window = new BrowserWindow({
    width: 1440,
    height: 900,
    minWidth: 900,
    minHeight: 600,
    show: false,
    title: 'Leadside',
    ...(app.isPackaged && process.platform === 'linux'
      ? { icon: path.join(process.resourcesPath, 'icon.png') }
      : {}),
    backgroundColor: nativeTheme.shouldUseDarkColors ? '#14181b' : '#f6f5f1',
    webPreferences: {
      preload: path.join(import.meta.dirname, '../preload/index.cjs'),
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      // It would fetch its dictionaries from the network.
      spellcheck: false,
      devTools: !app.isPackaged,
      additionalArguments: (await isDrawnInSoftware()) ? [drawnInSoftware] : [],
    },
  })
  window.once('ready-to-show', () => {
    void opened.then((problem) => {
      if (!problem && !window.isDestroyed()) window.show()
    })
  })
  quietWindow(window.webContents)
  // The page never leaves itself; a link in a note opens in the coach's browser, once the coach has said yes.
  window.webContents.on('will-navigate', (event, url) => {
    if (!isOwnPage(url)) event.preventDefault()
  })
  window.webContents.setWindowOpenHandler(({ url }) => {
    void askToOpen(window, url)
    return { action: 'deny' }
  })
  await window.loadURL(pageUrl(lessonId))
  return window
}
