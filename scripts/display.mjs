import { spawn } from 'node:child_process'
import { SetUpProblem, say } from './set-up-problem.mjs'

/** Does this machine show windows by itself? Only Linux needs to be asked. */
export function hasDisplay(env = process.env) {
  if (process.platform !== 'linux') return true
  return Boolean(env.DISPLAY || env.WAYLAND_DISPLAY)
}

/**
 * A display to open windows on: the machine's own, or an Xvfb that lives as long as this process.
 * Xvfb picks a free number itself, so two runs at a time don't meet.
 * @returns {Promise<{env: Record<string, string>, stop: () => void}>}
 */
export async function ensureDisplay({ always = false } = {}) {
  if (process.platform !== 'linux' || (!always && hasDisplay())) return { env: {}, stop: () => {} }

  const server = spawn(
    'Xvfb',
    ['-displayfd', '3', '-screen', '0', '1600x1000x24', '-nolisten', 'tcp', '-noreset'],
    { stdio: ['ignore', 'ignore', 'pipe', 'pipe'] },
  )
  const stop = () => server.exitCode === null && server.kill('SIGTERM')
  process.once('exit', stop)
  for (const [signal, code] of [
    ['SIGINT', 130],
    ['SIGTERM', 143],
    ['SIGHUP', 129],
  ]) {
    process.once(signal, () => process.exit(code))
  }

  const number = await new Promise((resolve, reject) => {
    let complaint = ''
    const fail = (why) => reject(new SetUpProblem(`Xvfb, the display for windows without a screen, ${why}`))
    const timer = setTimeout(() => fail(`did not start within 30 s. ${complaint}`), 30_000)
    server.stderr.on('data', (chunk) => (complaint += chunk))
    server.on('error', (error) => fail(`cannot be started: ${error.message}. Debian: apt-get install xvfb`))
    server.on('exit', (code) => fail(`ended at once (exit code ${code}). ${complaint}`))
    server.stdio[3].once('data', (chunk) => {
      clearTimeout(timer)
      resolve(String(chunk).trim())
    })
  })
  // It must not keep this process alive.
  server.unref()
  server.stderr.unref?.()
  server.stdio[3].unref?.()
  say(`no display here: windows open on Xvfb :${number}`)
  return { env: { DISPLAY: `:${number}` }, stop }
}
