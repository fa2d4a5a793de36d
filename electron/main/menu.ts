import { app, BrowserWindow, dialog, Menu, shell, type MenuItemConstructorOptions } from 'electron'
import { isTestBuild, licencesFile } from './shipped.ts'
import { openWindow } from './window.ts'
import { mainWords } from '../../shared-core/wording/window/main.ts'

/** Name, version, licences, and what it runs on. */
const showAbout = async (window: BrowserWindow | undefined) => {
  const licences = licencesFile()
  const options = {
    type: 'info' as const,
    title: mainWords('about'),
    message: mainWords(isTestBuild() ? 'testVersion' : 'version', { version: app.getVersion() }),
    detail: [
      ...(isTestBuild() ? [mainWords('forTryingOut')] : []),
      mainWords('whatItIs'),
      mainWords('runsOn', {
        electron: process.versions.electron,
        chromium: process.versions.chrome,
        node: process.versions.node,
      }),
      mainWords('updates'),
    ].join('\n\n'),
    buttons: licences === null ? [mainWords('close')] : [mainWords('close'), mainWords('showLicences')],
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
    label: mainWords('about'),
    click: (_item, window) => void showAbout(window instanceof BrowserWindow ? window : undefined),
  }
  const template: MenuItemConstructorOptions[] = [
    ...(isMac
      ? [
          {
            label: mainWords('leadside'),
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
      label: mainWords('file'),
      submenu: [
        { label: mainWords('newWindow'), click: () => void openWindow() },
        { type: 'separator' },
        isMac ? { role: 'close' } : { role: 'quit' },
      ],
    },
    {
      label: mainWords('edit'),
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
      label: mainWords('view'),
      submenu: [
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { type: 'separator' },
        { role: 'togglefullscreen' },
      ],
    },
    { label: mainWords('window'), submenu: [{ role: 'minimize' }, { role: 'zoom' }] },
    ...(isMac ? [] : [{ label: mainWords('help'), submenu: [about] }]),
  ]
  Menu.setApplicationMenu(Menu.buildFromTemplate(template))
}
