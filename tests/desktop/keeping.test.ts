import fs from 'node:fs'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { databaseFile } from '../../electron/library/database/database-file.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'
import { Library } from '../../electron/library/library.ts'
import { launchApp } from './launch.ts'

const root = temporaryFolder()
afterAll(() => fs.rmSync(root, { recursive: true, force: true }))
const shots = process.env.LEADSIDE_SCREENSHOTS

test('the window says that the records are not those of the files, restores a backup, and shows what is kept', async () => {
  const folder = path.join(root, 'library')
  const drive = path.join(root, 'drive')
  const library = new Library({ folder, printPdf: null })
  await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  const { jobId } = await library.ask('backup.make', { folder: drive })
  const { result: file } = await library.context.jobs.ended(jobId)
  await library.close()
  for (const end of ['', '-wal', '-shm']) fs.rmSync(`${databaseFile(folder)}${end}`, { force: true })

  const { app, page, complaints, close } = await launchApp({ library: folder })
  const picture = (name: string) => shots && page.screenshot({ path: path.join(shots, `${name}.png`) })
  await page.getByRole('heading', { name: 'These are not the records of this library' }).waitFor()
  await picture('trouble')
  await app.evaluate(({ dialog }, chosen) => {
    dialog.showOpenDialog = () => Promise.resolve({ canceled: false, filePaths: [chosen] })
  }, file!)
  await page.getByRole('button', { name: 'Restore a backup…' }).click()
  await page.getByRole('heading', { name: 'Restore a backup' }).waitFor()
  await picture('restore')
  await page.getByRole('button', { name: 'Restore', exact: true }).click()
  await page.getByRole('heading', { name: 'Robin Testing' }).waitFor()
  expect(fs.readdirSync(root).filter((name) => name.startsWith('library (set aside'))).toHaveLength(1)

  fs.mkdirSync(path.join(folder, 'set-aside'), { recursive: true })
  fs.writeFileSync(path.join(folder, 'set-aside', `${'a'.repeat(64)}.mp4`), Buffer.alloc(2_000_000))
  await page.getByRole('button', { name: 'Settings' }).click()
  await page.getByRole('button', { name: 'Backups and the library…' }).click()
  await page.getByRole('heading', { name: 'Set aside' }).waitFor()
  await app.evaluate(({ dialog }, chosen) => {
    dialog.showOpenDialog = () => Promise.resolve({ canceled: false, filePaths: [chosen] })
  }, drive)
  await page.getByRole('button', { name: 'Choose the folder…' }).click()
  await page.getByText(/The last backup was made on/).waitFor()
  await page.getByText(`Every day, by itself, into ${drive}`, { exact: false }).waitFor()
  await page.getByRole('button', { name: 'Check every file' }).click()
  await page.getByText('Everything is in order.').waitFor()
  await picture('keeping')
  await page.setViewportSize({ width: 1024, height: 700 })
  await page.emulateMedia({ colorScheme: 'dark' })
  await picture('keeping-small-dark')
  expect(complaints).toEqual([])
  await close()
})
