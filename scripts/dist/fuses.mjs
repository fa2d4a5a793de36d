import { FuseState, FuseV1Options, FuseVersion, flipFuses, getCurrentFuseWire } from '@electron/fuses'
import { SetUpProblem } from '../set-up-problem.mjs'

/**
 * What is switched off or on inside the program file of the shipped build. Electron checks the archive's integrity on macOS
 * and Windows only (its documentation, "ASAR Integrity").
 * @param {NodeJS.Platform} platform
 */
export const wantedFuses = (platform) => ({
  RunAsNode: false,
  EnableNodeOptionsEnvironmentVariable: false,
  EnableNodeCliInspectArguments: false,
  EnableEmbeddedAsarIntegrityValidation: platform === 'darwin' || platform === 'win32',
  OnlyLoadAppFromAsar: true,
  LoadBrowserProcessSpecificV8Snapshot: false,
  GrantFileProtocolExtraPrivileges: false,
})

/** The fuses as they stand in a program file. @returns {Promise<Record<string, boolean>>} */
export async function readFuses(program) {
  const wire = await getCurrentFuseWire(program)
  return Object.fromEntries(
    Object.keys(wantedFuses('linux')).map((name) => [name, wire[FuseV1Options[name]] === FuseState.ENABLE]),
  )
}

/** Sets them, reads them back from the file, and fails where one did not take. */
export async function setFuses(program, platform = process.platform) {
  const wanted = wantedFuses(platform)
  await flipFuses(program, {
    version: FuseVersion.V1,
    // Changing a program's bytes breaks the signature it came with; without one it does not start on Apple's processors.
    resetAdHocDarwinSignature: platform === 'darwin',
    ...Object.fromEntries(Object.entries(wanted).map(([name, on]) => [FuseV1Options[name], on])),
  })
  const found = await readFuses(program)
  const wrong = Object.keys(wanted).filter((name) => found[name] !== wanted[name])
  if (wrong.length > 0) throw new SetUpProblem(`These fuses could not be set: ${wrong.join(', ')}`)
  return found
}
