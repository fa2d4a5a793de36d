// electron measure-alone.mjs HTML OUT WIDTH: how long a page is in a window so wide, written to OUT as JSON; then it ends.
import { writeFileSync } from 'node:fs'
import { app, BrowserWindow } from 'electron'
import { quietSession } from './print-pdf.mjs'

const [htmlFile, outFile, width] = process.argv.slice(-3)
const widthPx = Number(width)

const measure = async () => {
  const window = new BrowserWindow({
    show: false,
    useContentSize: true,
    width: widthPx,
    height: 844,
    webPreferences: { session: quietSession(), sandbox: true, contextIsolation: true, spellcheck: false },
  })
  await window.loadFile(htmlFile)
  // As a phone shows it: no bar for scrolling takes width away, and no system makes the window wider.
  window.webContents.enableDeviceEmulation({
    screenPosition: 'mobile',
    screenSize: { width: widthPx, height: 844 },
    viewSize: { width: widthPx, height: 844 },
    viewPosition: { x: 0, y: 0 },
    deviceScaleFactor: 1,
    scale: 1,
  })
  const seen = await window.webContents.executeJavaScript(
    `new Promise((done) => setTimeout(() => done({
      widthPx: document.documentElement.clientWidth,
      contentWidthPx: document.documentElement.scrollWidth,
      heightPx: document.documentElement.scrollHeight,
    }), 300))`,
  )
  writeFileSync(outFile, JSON.stringify(seen))
}

app.on('window-all-closed', () => {})
app
  .whenReady()
  .then(measure)
  .then(() => app.exit(0))
  .catch((error) => {
    console.error(error.message)
    app.exit(1)
  })
