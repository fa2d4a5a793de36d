import { spawn } from 'node:child_process'

/**
 * Runs a program and waits for it.
 * `quiet` keeps its output instead of showing it; `timeoutSeconds` ends it when it hangs.
 * Never throws: a program that cannot be started has code 127 and the reason in `output`.
 * @returns {Promise<{code: number, output: string, timedOut: boolean, signal: NodeJS.Signals | null}>}
 */
export function runCommand(command, args, options = {}) {
  const { quiet = false, timeoutSeconds, toStderr = false, ...spawnOptions } = options
  const shown = toStderr ? ['ignore', 2, 2] : 'inherit'
  return new Promise((resolve) => {
    let output = ''
    let timedOut = false
    const child = spawn(command, args, {
      stdio: quiet ? ['ignore', 'pipe', 'pipe'] : shown,
      shell: process.platform === 'win32' && /\.(cmd|bat)$/.test(command),
      windowsHide: true,
      ...spawnOptions,
    })
    const keep = (chunk) => {
      output += chunk
    }
    child.stdout?.on('data', keep)
    child.stderr?.on('data', keep)
    const timer =
      timeoutSeconds &&
      setTimeout(() => {
        timedOut = true
        child.kill('SIGTERM')
        setTimeout(() => child.kill('SIGKILL'), 5000).unref()
      }, timeoutSeconds * 1000)
    child.on('error', (error) => {
      clearTimeout(timer)
      resolve({ code: 127, output: output + error.message, timedOut, signal: null })
    })
    child.on('close', (code, signal) => {
      clearTimeout(timer)
      resolve({ code: code ?? 1, output, timedOut, signal })
    })
  })
}

/** npm's program name here. */
export const npmCommand = process.platform === 'win32' ? 'npm.cmd' : 'npm'
