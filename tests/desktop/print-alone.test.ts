import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { electronPrinter } from '../../electron/library/hand-over/print-pdf.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'

test('Electron alone prints a page for the command line, asking nobody for what the page names', async () => {
  const folder = temporaryFolder()
  try {
    const [html, pdf] = ['page.html', 'page.pdf'].map((name) => path.join(folder, name)) as [string, string]
    const style = '@page{size:A4}p{break-after:page}'
    fs.writeFileSync(
      html,
      `<style>${style}</style><p>First words</p>Last words<img src="https://example.invalid/">`,
    )
    await electronPrinter(process.env.LEADSIDE_ELECTRON!)(html, pdf)
    const info = execFileSync('pdfinfo', [pdf], { encoding: 'utf8' })
    expect(info).toMatch(/Pages:\s+2\n/)
    expect(info).toMatch(/\(A4\)/)
    expect(execFileSync('pdftotext', [pdf, '-'], { encoding: 'utf8' })).toMatch(/First words\s+Last words/)
    const missing = path.join(folder, 'nowhere.html')
    await expect(electronPrinter(process.env.LEADSIDE_ELECTRON!)(missing, `${pdf}-2`)).rejects.toThrow(
      /printing failed/,
    )
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
  }
})
