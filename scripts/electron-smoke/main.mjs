// Proves that an Electron build works on this machine: opens a hidden window, has it compute, prints the versions.
import { app, BrowserWindow } from 'electron'

const limit = setTimeout(() => {
  console.error('no window within 40 s')
  app.exit(1)
}, 40_000)

async function prove() {
  const window = new BrowserWindow({ show: false, width: 200, height: 100 })
  await window.loadURL('data:text/html,<title>ready</title>')
  const answer = await window.webContents.executeJavaScript('6 * 7')
  const { electron, chrome, node, napi } = process.versions
  console.log(`LEADSIDE-SMOKE ${JSON.stringify({ electron, chrome, node, napi, answer })}`)
  clearTimeout(limit)
  app.exit(answer === 42 ? 0 : 1)
}

// Not awaited: Electron becomes ready only when this file has been read to its end.
app
  .whenReady()
  .then(prove)
  .catch((error) => {
    console.error(error)
    app.exit(1)
  })
