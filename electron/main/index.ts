import path from 'node:path'
import { app, BrowserWindow, dialog, protocol } from 'electron'
import { servePage } from './app-protocol.ts'
import { chosenPlace } from '../library/library-place.ts'
import { giveFiles, lessonFilesIn } from './given-files.ts'
import { LibraryLink } from './library-link.ts'
import { serveMedia } from './media-protocol.ts'
import { setMenu } from './menu.ts'
import { guardPermissions } from './permissions.ts'
import { quietBrowser, quietSession } from './quiet.ts'
import { answerWindows } from './shell-calls.ts'
import { isSteered, isTestBuild } from './shipped.ts'
import { openWindow } from './window.ts'

app.setName(isTestBuild() ? 'Leadside (test build)' : 'Leadside')
// What this program writes is for its owner's eyes.
process.umask(0o077)
quietBrowser()
// Schemes must be known before the app is ready.
protocol.registerSchemesAsPrivileged([
  { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  {
    scheme: 'media',
    privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true, corsEnabled: true },
  },
])

if (process.env.LEADSIDE_USER_DATA) app.setPath('userData', process.env.LEADSIDE_USER_DATA)
const given = process.env.LEADSIDE_LIBRARY
const userData = app.getPath('userData')
const folder = given ?? chosenPlace(userData) ?? path.join(app.getPath('documents'), 'Leadside library')

/** Lesson files that were opened with the program, by a double click, say. macOS tells of them in its own way. */
const startedWith = lessonFilesIn(process.argv.slice(1), process.cwd())
app.on('open-file', (event, file) => {
  event.preventDefault()
  giveFiles(lessonFilesIn([file], '/'))
  if (app.isReady() && BrowserWindow.getAllWindows().length === 0) void openWindow()
})

let library: LibraryLink | null = null

const sayToAll = (name: string, body: unknown) => {
  for (const window of BrowserWindow.getAllWindows()) window.webContents.send('library-event', name, body)
}

const start = async () => {
  // First, for the window waits for it longest.
  library = new LibraryLink(folder, given ? null : userData, sayToAll)
  quietSession()
  setMenu()
  guardPermissions()
  servePage()
  serveMedia((name, input) => library!.ask(name, input))
  answerWindows(library)
  // The page loads while the library opens; it is seen only if that went well.
  const [problem] = await Promise.all([library.opened, openWindow(null, library.opened)])
  if (problem) {
    dialog.showErrorBox('Leadside', [problem.what, problem.where, problem.toDo].filter(Boolean).join('\n\n'))
    app.quit()
  }
}

const stop = async () => {
  await library?.close()
  library = null
  app.quit()
}

if (isSteered()) {
  console.error('Leadside is not started with a remote debugging switch')
  app.exit(1)
}
// A second start goes to the first one; two programs never fight over one library.
else if (app.requestSingleInstanceLock({ files: startedWith })) {
  giveFiles(startedWith)
  app.on('second-instance', (_event, _args, _folder, about) => {
    const { files } = about as { files: string[] }
    if (files.length === 0 || BrowserWindow.getAllWindows().length === 0) void openWindow()
    giveFiles(files)
  })
  app.on('activate', () => {
    if (BrowserWindow.getAllWindows().length === 0) void openWindow()
  })
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit()
  })
  app.on('before-quit', (event) => {
    if (!library) return
    event.preventDefault()
    void stop()
  })
  app
    .whenReady()
    .then(start)
    .catch((error: unknown) => {
      dialog.showErrorBox('Leadside', (error as Error).message)
      app.quit()
    })
} else app.quit()
