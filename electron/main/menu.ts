import { app, BrowserWindow, dialog, Menu, type MenuItemConstructorOptions } from 'electron'
import { openWindow } from './window.ts'

/** Name, version, licence, and what it runs on. */
const showAbout = (window: BrowserWindow | undefined) => {
  const options = {
    type: 'info' as const,
    title: 'About Leadside',
    message: `Leadside ${app.getVersion()}`,
    detail: [
      'Lesson notes and swing-video annotation for golf coaches. MIT licence.',
      `Electron ${process.versions.electron}, Chromium ${process.versions.chrome}, Node ${process.versions.node}`,
      'Leadside never looks for updates by itself. New versions are on the page where you got this one.',
    ].join('\n\n'),
    buttons: ['Close'],
  }
  void (window ? dialog.showMessageBox(window, options) : dialog.showMessageBox(options))
}

/** A menu of our own: nothing of the browser's (reload, developer tools) is in it. */
export const setMenu = () => {
  const isMac = process.platform === 'darwin'
  const about: MenuItemConstructorOptions = {
    label: 'About Leadside',
    click: (_item, window) => showAbout(window instanceof BrowserWindow ? window : undefined),
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
