import fs from 'node:fs'
import path from 'node:path'
import { BrowserWindow } from 'electron'

/** Lesson files that the coach opened outside (a double click); they wait here until a window has time for them. */
const waiting: string[] = []

/** Lesson files among the arguments of a start. */
export const lessonFilesIn = (args: readonly string[], folder: string): string[] =>
  args
    .filter((arg) => !arg.startsWith('-') && /\.leadside-lesson$/i.test(arg))
    .map((arg) => path.resolve(folder, arg))
    .filter((file) => fs.existsSync(file))

/** The window that the coach looks at, or last looked at, comes forward and asks for them. */
export const giveFiles = (files: readonly string[]) => {
  waiting.push(...files)
  const window = BrowserWindow.getFocusedWindow() ?? BrowserWindow.getAllWindows()[0]
  if (!window || files.length === 0) return
  if (window.isMinimized()) window.restore()
  window.focus()
  window.webContents.send('file-given')
}

export const nextGivenFile = (): string | null => waiting.shift() ?? null
