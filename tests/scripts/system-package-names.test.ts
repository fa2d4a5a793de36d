import { describe, expect, it } from 'vitest'
import {
  installedNames,
  missingNeeds,
  offeredName,
  offeredNames,
  testNeeds,
  windowNeeds,
} from '../../scripts/system-package-names.mjs'

const nothing = () => false

// Debian's own record of the renaming: wiki.debian.org/ReleaseGoals/64bit-time (common practice, seen in apt-cache).
const policy = `libasound2:
  Installed: (none)
  Candidate: (none)
  Version table:
libasound2t64:
  Installed: (none)
  Candidate: 1.2.14-1
  Version table:
     1.2.14-1 500
xvfb:
  Installed: 2:21.1.7-3
  Candidate: 2:21.1.7-3
`

describe('the Debian packages', () => {
  it('are asked for under the name that this release has a version of, not one that others merely provide', () => {
    const offered = offeredNames(policy)
    const need = windowNeeds.find((one) => one.names.includes('libasound2'))!
    expect(offeredName(need, (name) => offered.has(name))).toBe('libasound2t64')
    expect(offered).toEqual(new Set(['libasound2t64', 'xvfb']))
  })

  it('are asked for under the old name on an older release', () => {
    const need = windowNeeds.find((one) => one.names.includes('libgtk-3-0'))!
    expect(offeredName(need, (name) => name === 'libgtk-3-0')).toBe('libgtk-3-0')
    expect(offeredName(need, nothing)).toBe('libgtk-3-0')
  })

  it('count as installed only when dpkg finished with them', () => {
    const listing = 'ii  xvfb\nrc  libnss3\niU  libgbm1\nii  libgtk-3-0:amd64\n'
    expect(installedNames(listing)).toEqual(new Set(['xvfb', 'libgtk-3-0']))
  })

  it('are not missing when either name is installed, or the program is there from elsewhere', () => {
    const newNames = new Set(['libgtk-3-0t64', 'libasound2t64', 'libatk-bridge2.0-0t64', 'libcups2t64'])
    const left = missingNeeds(windowNeeds, (name) => newNames.has(name), nothing).flatMap(
      (need) => need.names,
    )
    expect(left).not.toContain('libgtk-3-0')
    expect(left).toContain('libnss3')
    const browser = missingNeeds(testNeeds, nothing, (command) => command === 'google-chrome')
    expect(browser.flatMap((need) => need.names)).not.toContain('chromium')
  })

  it('are all missing on a machine with nothing', () => {
    expect(missingNeeds(testNeeds, nothing, nothing)).toEqual(testNeeds)
  })
})
