// electron print-alone.mjs HTML PDF: prints one page and ends; for the command line where there is no browser.
import { app } from 'electron'
import { printPdf } from './print-pdf.mjs'

const [htmlFile, pdfFile] = process.argv.slice(-2)

// Its own windows only: none is open between the page's end and the file's.
app.on('window-all-closed', () => {})
// Not awaited: Electron becomes ready only when this file has been read to its end.
app
  .whenReady()
  .then(() => printPdf(htmlFile, pdfFile))
  .then(() => app.exit(0))
  .catch((error) => {
    console.error(error.message)
    app.exit(1)
  })
