import path from 'node:path'
import { BrowserWindow, nativeTheme, shell } from 'electron'
import { drawnInSoftware } from '../../shared-core/contract/shell.ts'
import { pageOrigin } from './app-protocol.ts'
import { isDrawnInSoftware } from './drawn-in-software.ts'

/** Address of the page: the development server's, or the built one. */
const pageUrl = (lessonId: string | null) => {
  const base = process.env.ELECTRON_RENDERER_URL ?? `${pageOrigin}/index.html`
  return lessonId ? `${base}#/lesson/${encodeURIComponent(lessonId)}` : base
}

/** True for pages that are ours; nothing else may talk to main. */
export const isOwnPage = (url: string): boolean => {
  const development = process.env.ELECTRON_RENDERER_URL
  return url.startsWith(`${pageOrigin}/`) || (development !== undefined && url.startsWith(development))
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
    backgroundColor: nativeTheme.shouldUseDarkColors ? '#14181b' : '#f6f5f1',
    webPreferences: {
      preload: path.join(import.meta.dirname, '../preload/index.cjs'),
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      spellcheck: true,
      additionalArguments: (await isDrawnInSoftware()) ? [drawnInSoftware] : [],
    },
  })
  window.once('ready-to-show', () => {
    void opened.then((problem) => {
      if (!problem && !window.isDestroyed()) window.show()
    })
  })
  // The page never leaves itself; a link in a note opens in the coach's browser.
  window.webContents.on('will-navigate', (event, url) => {
    if (!isOwnPage(url)) event.preventDefault()
  })
  window.webContents.setWindowOpenHandler(({ url }) => {
    if (/^https?:/.test(url)) void shell.openExternal(url)
    return { action: 'deny' }
  })
  await window.loadURL(pageUrl(lessonId))
  return window
}
