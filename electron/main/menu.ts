import { app, BrowserWindow, dialog, Menu, shell, type MenuItemConstructorOptions } from 'electron'
import { isTestBuild, licencesFile } from './shipped.ts'
import { openWindow } from './window.ts'

/** Name, version, licences, and what it runs on. */
const showAbout = async (window: BrowserWindow | undefined) => {
  const licences = licencesFile()
  const options = {
    type: 'info' as const,
    title: 'About Leadside',
    message: `Leadside ${app.getVersion()}${isTestBuild() ? ' (test build)' : ''}`,
    detail: [
      ...(isTestBuild() ? ['For trying out only: not a version for your lessons.'] : []),
      'Lesson notes and swing-video annotation for golf coaches. MIT licence; every part’s licence is in the list.',
      `Electron ${process.versions.electron}, Chromium ${process.versions.chrome}, Node ${process.versions.node}`,
      'Leadside never looks for updates by itself. New versions are on the page where you got this one.',
    ].join('\n\n'),
    buttons: licences === null ? ['Close'] : ['Close', 'Show the licences'],
    defaultId: 0,
    cancelId: 0,
  }
  const { response } = await (window
    ? dialog.showMessageBox(window, options)
    : dialog.showMessageBox(options))
  if (response === 1 && licences !== null) await shell.openPath(licences)
}

/** A menu of our own: nothing of the browser's (reload, developer tools) is in it. */
export const setMenu = () => {
  const isMac = process.platform === 'darwin'
  const about: MenuItemConstructorOptions = {
    label: 'About Leadside',
    click: (_item, window) => void showAbout(window instanceof BrowserWindow ? window : undefined),
  }
  const template: MenuItemConstructorOptions[] = [
    ...(isMac
      ? [
          {
            label: 'Leadside',
            submenu: [
              about,
              { type: 'separator' },
              { role: 'hide' },
              { role: 'hideOthers' },
              { role: 'unhide' },
              { type: 'separator' },
              { role: 'quit' },
            ],
          } satisfies MenuItemConstructorOptions,
        ]
      : []),
    {
      label: 'File',
      submenu: [
        { label: 'New window', click: () => void openWindow() },
        { type: 'separator' },
        isMac ? { role: 'close' } : { role: 'quit' },
      ],
    },
    {
      label: 'Edit',
      submenu: [
        { role: 'undo' },
        { role: 'redo' },
        { type: 'separator' },
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
      ],
    },
    {
      label: 'View',
      submenu: [
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { type: 'separator' },
        { role: 'togglefullscreen' },
      ],
    },
    { label: 'Window', submenu: [{ role: 'minimize' }, { role: 'zoom' }] },
    ...(isMac ? [] : [{ label: 'Help', submenu: [about] }]),
  ]
  Menu.setApplicationMenu(Menu.buildFromTemplate(template))
}
