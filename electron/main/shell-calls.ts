import { randomUUID } from 'node:crypto'
import { mkdir, readdir, rm, stat, writeFile } from 'node:fs/promises'
import path from 'node:path'
import { app, BrowserWindow, dialog, ipcMain, shell, type IpcMainInvokeEvent } from 'electron'
import { z } from 'zod'
import { contract, notForWindows, type CallName } from '../../shared-core/contract/index.ts'
import type { CallResult } from '../../shared-core/contract/envelope.ts'
import { nextGivenFile } from './given-files.ts'
import type { LibraryLink } from './library-link.ts'
import { isOwnPage, openWindow } from './window.ts'
import { Problem } from '../../shared-core/problem.ts'
import { mainWords } from '../../shared-core/wording/window/main.ts'

const filters = {
  clips: [
    {
      name: mainWords('clipsAndPictures'),
      extensions: [
        ...['mp4', 'mov', 'm4v', 'mkv', 'webm', 'avi', 'mts', '3gp'],
        ...['jpg', 'jpeg', 'png', 'webp', 'heic', 'heif'],
      ],
    },
  ],
  shots: [{ name: mainWords('shotRecords'), extensions: ['csv', 'tsv', 'txt'] }],
  image: [{ name: mainWords('pictures'), extensions: ['png', 'jpg', 'jpeg'] }],
  backup: [{ name: mainWords('backups'), extensions: ['leadside-backup'] }],
  lesson: [{ name: mainWords('lessons'), extensions: ['leadside-lesson'] }],
  drill: [
    { name: mainWords('picturesAndClips'), extensions: ['png', 'jpg', 'jpeg', 'mp4', 'mov', 'm4v', 'webm'] },
  ],
}

/** Kinds of sound that the window records, and of pictures that are pasted into it. */
const recordingTypes = ['wav', 'webm', 'ogg', 'png', 'jpg', 'webp'] as const

const weekMs = 7 * 24 * 3600 * 1000

/** A recording whose talk-through failed is kept for another try, but not for ever. */
const forgetOldRecordings = async (folder: string) => {
  for (const name of await readdir(folder)) {
    const file = path.join(folder, name)
    if (Date.now() - (await stat(file)).mtimeMs > weekMs) await rm(file, { force: true })
  }
}

/** A page that could name the program that reads the clips could have any program run. Taking it away is harmless. */
export const namesProgram = (settings: unknown): boolean =>
  ((settings as { ffmpegPath?: unknown } | null)?.ffmpegPath ?? null) !== null

const refused: CallResult<never> = {
  ok: false,
  problem: new Problem('refused').body,
}

/** Answers the window: library calls are relayed, dialogs and files are main's own. The sender is checked here, for all. */
export const answerWindows = (library: LibraryLink) => {
  const handle = (channel: string, answer: (event: IpcMainInvokeEvent, ...args: unknown[]) => unknown) =>
    ipcMain.handle(channel, (event, ...args: unknown[]) => {
      if (!event.senderFrame || !isOwnPage(event.senderFrame.url)) return refused
      return answer(event, ...args)
    })
  const windowOf = (event: IpcMainInvokeEvent) => BrowserWindow.fromWebContents(event.sender)!

  handle('library', (event, name, input) => {
    if (
      typeof name !== 'string' ||
      !Object.hasOwn(contract, name) ||
      notForWindows.includes(name as CallName) ||
      (name === 'settings.set' && namesProgram(input))
    ) {
      return refused
    }
    return library.ask(name, input, `window ${event.sender.id}`)
  })
  handle('pick-files', async (event, kind) => {
    const { filePaths } = await dialog.showOpenDialog(windowOf(event), {
      properties: kind === 'clips' ? ['openFile', 'multiSelections'] : ['openFile'],
      filters: [
        ...filters[z.enum(['clips', 'shots', 'image', 'drill', 'backup', 'lesson']).parse(kind)],
        { name: mainWords('allFiles'), extensions: ['*'] },
      ],
    })
    return filePaths
  })
  handle('pick-folder', async (event) => {
    const { filePaths } = await dialog.showOpenDialog(windowOf(event), {
      properties: ['openDirectory', 'createDirectory'],
    })
    return filePaths[0] ?? null
  })
  handle('next-given-file', () => nextGivenFile())
  handle('documents-folder', () => app.getPath('documents'))
  // Which program reads the clips is chosen here, in a dialog of main's own: the page can't name one.
  handle('choose-ffmpeg', async (event) => {
    const { filePaths } = await dialog.showOpenDialog(windowOf(event), {
      title: mainWords('chooseFfmpeg'),
      properties: ['openFile'],
    })
    const [file] = filePaths
    if (!file) return null
    if (!/^ffmpeg(\.exe)?$/.test(path.basename(file))) {
      await dialog.showMessageBox(windowOf(event), {
        type: 'warning',
        message: mainWords('notFfmpeg'),
        detail: mainWords('notFfmpegHint'),
      })
      return null
    }
    await library.ask('settings.set', { ffmpegPath: file })
    return file
  })
  handle('show-in-folder', (_event, file) => shell.showItemInFolder(z.string().parse(file)))
  handle('open-window', async (_event, lessonId) => {
    await openWindow(z.string().nullable().parse(lessonId))
  })
  handle('keep-recording', async (_event, bytes, extension) => {
    const folder = path.join(app.getPath('temp'), 'leadside-recordings')
    await mkdir(folder, { recursive: true })
    await forgetOldRecordings(folder)
    const file = path.join(folder, `${randomUUID()}.${z.enum(recordingTypes).parse(extension)}`)
    await writeFile(file, Buffer.from(z.instanceof(ArrayBuffer).parse(bytes)))
    return file
  })
}
