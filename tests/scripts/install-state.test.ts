import { rmSync, utimesSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { installState } from '../../scripts/install-state.mjs'
import { temporaryFolder } from './temporary-folder.ts'

const lockOf = (packages: object) =>
  JSON.stringify({ lockfileVersion: 3, packages: { '': { name: 'x' }, ...packages } })
const one = { version: '1.0.0', integrity: 'sha512-aaa' }
const two = { version: '2.0.0', integrity: 'sha512-bbb' }
const both = { 'node_modules/one': one, 'node_modules/two': two }

const installed = (over: Record<string, string> = {}) =>
  temporaryFolder({
    'package-lock.json': lockOf(both),
    'node_modules/.package-lock.json': lockOf(both),
    'node_modules/one/package.json': '{"version":"1.0.0"}',
    'node_modules/two/package.json': '{"version":"2.0.0"}',
    ...over,
  })

describe('an install', () => {
  it('is up to date when the disk holds what the lock asks for, whatever the times of the files', () => {
    const root = installed()
    utimesSync(path.join(root, 'node_modules/.package-lock.json'), new Date(0), new Date(0))
    expect(installState(root)).toEqual({ fresh: true, why: 'up to date' })
  })

  it('is stale when nothing is installed', () => {
    const root = temporaryFolder({ 'package-lock.json': lockOf(both) })
    expect(installState(root).fresh).toBe(false)
  })

  it('is stale when it was interrupted: packages are there, but not the record that npm writes last', () => {
    const root = installed()
    rmSync(path.join(root, 'node_modules/.package-lock.json'))
    expect(installState(root)).toEqual({ fresh: false, why: 'the last install did not finish' })
  })

  it('is stale when the lock asks for another version than was installed', () => {
    const root = installed({
      'package-lock.json': lockOf({ ...both, 'node_modules/two': { ...two, version: '2.1.0' } }),
    })
    expect(installState(root).why).toContain('node_modules/two is not the version')
  })

  it('is stale when the same version has another content than the lock pins', () => {
    const root = installed({
      'package-lock.json': lockOf({ ...both, 'node_modules/two': { ...two, integrity: 'sha512-ccc' } }),
    })
    expect(installState(root).fresh).toBe(false)
  })

  it('is stale when the lock asks for a new package', () => {
    const root = installed({ 'package-lock.json': lockOf({ ...both, 'node_modules/three': one }) })
    expect(installState(root).why).toBe('node_modules/three is missing')
  })

  it('is stale when a folder was deleted or replaced by hand', () => {
    const deleted = installed()
    rmSync(path.join(deleted, 'node_modules/one'), { recursive: true })
    expect(installState(deleted).why).toBe('node_modules/one is incomplete')
    const replaced = installed()
    writeFileSync(path.join(replaced, 'node_modules/one/package.json'), '{"version":"0.9.0"}')
    expect(installState(replaced).why).toContain('0.9.0')
  })

  it('may lack an optional package, as where a download is refused', () => {
    const root = installed({
      'package-lock.json': lockOf({ ...both, 'node_modules/extra': { ...one, optional: true } }),
    })
    expect(installState(root).fresh).toBe(true)
  })

  it('is stale when the lock cannot be read', () => {
    expect(installState(installed({ 'package-lock.json': '{' })).fresh).toBe(false)
  })
})
