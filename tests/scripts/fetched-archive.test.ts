import { createWriteStream, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { pipeline } from 'node:stream/promises'
import { describe, expect, it } from 'vitest'
import { ZipFile } from 'yazl'
import { unzip } from '../../scripts/electron-fallback.mjs'
import { fileIntegrity, requireIntegrity } from '../../scripts/integrity.mjs'
import { temporaryFolder } from './temporary-folder.ts'

// SHA-512 of "abc": FIPS 180-4 example (NIST, "SHA-512 Example, one block message"), from memory.
const sha512OfAbc =
  'ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a' +
  '2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f'
const integrityOfAbc = `sha512-${Buffer.from(sha512OfAbc, 'hex').toString('base64')}`

describe('a fetched archive', () => {
  it('has the integrity that the published example of SHA-512 gives', async () => {
    const folder = temporaryFolder({ abc: 'abc' })
    expect(await fileIntegrity(path.join(folder, 'abc'))).toBe(integrityOfAbc)
    await expect(requireIntegrity(path.join(folder, 'abc'), integrityOfAbc)).resolves.toBeUndefined()
  })

  it('is refused when one bit of it was changed', async () => {
    const folder = temporaryFolder({ abc: 'abc' })
    const file = path.join(folder, 'abc')
    const bytes = readFileSync(file)
    bytes[1]! ^= 1
    writeFileSync(file, bytes)
    await expect(requireIntegrity(file, integrityOfAbc)).rejects.toThrow(/not the pinned one/)
  })

  const zipped = async (folder: string, entries: { name: string; mode?: number }[]) => {
    const zip = new ZipFile()
    for (const { name, mode } of entries) {
      zip.addBuffer(Buffer.from(`content of ${name}`), name, { mode: mode ?? 0o100644 })
    }
    zip.end()
    const file = path.join(folder, 'archive.zip')
    await pipeline(zip.outputStream, createWriteStream(file))
    return file
  }

  it('gives only the wanted files, and keeps which of them are programs', async () => {
    const folder = temporaryFolder()
    const file = await zipped(folder, [
      { name: 'Top/program', mode: 0o100755 },
      { name: 'Top/locales/en.pak' },
      { name: 'Top/resources/app/index.js' },
    ])
    const target = path.join(folder, 'out')
    await unzip(file, target, (name) => !name.includes('/resources/'), 'Top/')
    expect(readFileSync(path.join(target, 'locales/en.pak'), 'utf8')).toBe('content of Top/locales/en.pak')
    expect(statSync(path.join(target, 'program')).mode & 0o111).not.toBe(0)
    expect(statSync(path.join(target, 'locales/en.pak')).mode & 0o111).toBe(0)
    expect(existsSync(path.join(target, 'resources'))).toBe(false)
  })

  it('is refused when an entry points outside the target folder', async () => {
    const folder = temporaryFolder()
    const file = await zipped(folder, [{ name: 'Top/aa/evil' }])
    // The library that writes zips refuses such names, so one of the same length is put in afterwards.
    const bytes = readFileSync(file)
    for (let at = bytes.indexOf('Top/aa/evil'); at >= 0; at = bytes.indexOf('Top/aa/evil', at + 1)) {
      bytes.write('Top/../evil', at)
    }
    writeFileSync(file, bytes)
    await expect(unzip(file, path.join(folder, 'out'), () => true, 'Top/')).rejects.toThrow()
    expect(existsSync(path.join(folder, 'evil'))).toBe(false)
  })
})
