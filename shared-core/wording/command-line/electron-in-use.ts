import { windowWords } from '../window/window-words.ts'

/** Words of the command line: electron-in-use. */
export const electronTexts = windowWords({
  unknownVersion: 'unknown version',
  override: 'Electron {version}, from ELECTRON_OVERRIDE_DIST_PATH: {folder}',
  notInstalled: 'Electron is not installed here; the command line does not need it',
  package: 'Electron {version}, from the electron package',
  noBinary:
    'Electron: no binary in the electron package yet; npm start fetches one or says what it uses instead',
})
