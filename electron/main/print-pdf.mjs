import { writeFile } from 'node:fs/promises'
import { BrowserWindow, session } from 'electron'

// Plain JavaScript, because print-alone.mjs runs it unbuilt in Electron.

/** A page that may not ask anybody for anything: no scripts, no network, only the one file. */
export const quietSession = () => {
  const quiet = session.fromPartition('print')
  // A session of its own has a spell checker of its own, which would fetch its dictionary.
  quiet.setSpellCheckerEnabled(false)
  quiet.setSpellCheckerLanguages([])
  quiet.webRequest.onBeforeRequest((details, answer) =>
    answer({ cancel: !/^(file|data):/.test(details.url) }),
  )
  return quiet
}

/** Prints an HTML file of ours to a PDF, in the window's own engine, without showing a window. */
export const printPdf = async (htmlFile, pdfFile) => {
  const window = new BrowserWindow({
    show: false,
    webPreferences: {
      session: quietSession(),
      sandbox: true,
      javascript: false,
      contextIsolation: true,
      spellcheck: false,
    },
  })
  try {
    await window.loadFile(htmlFile)
    const pdf = await window.webContents.printToPDF({ preferCSSPageSize: true, printBackground: true })
    await writeFile(pdfFile, pdf)
  } finally {
    window.destroy()
  }
}
