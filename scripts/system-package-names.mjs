// Which Debian packages the window, the hand-over's tests and the media tests stand on.

/**
 * One need: any of `commands` on the PATH or any of `names` installed satisfies it.
 * Several names: Debian 13 and Ubuntu 24.04 renamed libraries whose time type grew to 64 bits.
 * @typedef {{names: string[], commands?: string[], for: string}} Need
 */

/** @type {Need[]} */
export const windowNeeds = [
  { names: ['xvfb'], commands: ['Xvfb'], for: 'a display without a screen' },
  { names: ['libgtk-3-0t64', 'libgtk-3-0'], for: 'the window' },
  { names: ['libnss3'], for: 'the window' },
  { names: ['libgbm1'], for: 'the window' },
  { names: ['libasound2t64', 'libasound2'], for: 'the window' },
  { names: ['libatk-bridge2.0-0t64', 'libatk-bridge2.0-0'], for: 'the window' },
  { names: ['libcups2t64', 'libcups2'], for: 'the window' },
  { names: ['libxss1'], for: 'the window' },
  { names: ['libxtst6'], for: 'the window' },
  { names: ['fonts-dejavu-core'], for: 'the window' },
]

/** @type {Need[]} */
export const testNeeds = [
  ...windowNeeds,
  { names: ['ffmpeg'], commands: ['ffmpeg'], for: 'media tests (HEVC and others)' },
  {
    names: ['chromium'],
    commands: ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'],
    for: 'opening the hand-over in a browser',
  },
  { names: ['poppler-utils'], commands: ['pdftotext'], for: 'reading PDF files' },
]

/**
 * The needs that nothing installed satisfies.
 * @param {Need[]} needs
 * @param {(name: string) => boolean} isInstalled
 * @param {(command: string) => boolean} hasCommand
 */
export function missingNeeds(needs, isInstalled, hasCommand) {
  return needs.filter((need) => !need.commands?.some(hasCommand) && !need.names.some(isInstalled))
}

/**
 * The name under which this Debian offers it; the last (oldest) name where apt knows none of them.
 * @param {Need} need
 * @param {(name: string) => boolean} isOffered
 */
export function offeredName(need, isOffered) {
  return need.names.find(isOffered) ?? need.names.at(-1)
}

/**
 * The names in the output of `dpkg-query -W -f '${db:Status-Abbrev} ${Package}\n'` that are installed completely.
 * @param {string} listing
 */
export function installedNames(listing) {
  const names = new Set()
  for (const line of listing.split('\n')) {
    const match = /^ii\s+(\S+)/.exec(line)
    if (match) names.add(match[1].replace(/:.*$/, ''))
  }
  return names
}

/**
 * The names in the output of `apt-cache policy NAME…` that have a version to install. A name that other packages
 * merely provide has none.
 * @param {string} policy
 */
export function offeredNames(policy) {
  const names = new Set()
  let current
  for (const line of policy.split('\n')) {
    const head = /^(\S+):$/.exec(line)
    if (head) current = head[1]
    const candidate = /^\s+Candidate:\s+(\S+)/.exec(line)
    if (candidate && current && candidate[1] !== '(none)') names.add(current.replace(/:.*$/, ''))
  }
  return names
}
