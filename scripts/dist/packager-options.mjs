import { lessonFile, programNames } from './names.mjs'

const year = 2026

/**
 * What @electron/packager is told, for each system. Signing is for whoever has the keys, by variables of the environment:
 * macOS LEADSIDE_MAC_IDENTITY (a certificate in the keychain) and LEADSIDE_NOTARY_PROFILE (kept by `notarytool
 * store-credentials`); Windows LEADSIDE_WINDOWS_CERTIFICATE (a .pfx file) and LEADSIDE_WINDOWS_PASSWORD. Without, unsigned.
 * @param {{platform: string, version: string, isTestBuild: boolean, icon: string, env?: NodeJS.ProcessEnv}} build
 */
export function packagerOptions({ platform, version, isTestBuild, icon, env = process.env }) {
  const { product, plain, bundle } = programNames(isTestBuild)
  const common = {
    name: plain,
    executableName: plain,
    appVersion: version,
    buildVersion: version,
    appCopyright: `Copyright ${year} the Leadside contributors, MIT licence`,
    prune: false,
    overwrite: true,
    quiet: true,
    // The library's side lies beside the archive as plain files (library-parts.mjs).
    asar: { unpackDir: 'library' },
    icon,
  }
  if (platform === 'darwin') {
    return {
      ...common,
      // People see the bundle's own name there.
      name: product,
      executableName: product,
      appBundleId: bundle,
      appCategoryType: 'public.app-category.sports',
      darwinDarkModeSupport: true,
      extendInfo: {
        CFBundleDocumentTypes: [
          {
            CFBundleTypeName: lessonFile.words,
            CFBundleTypeRole: 'Viewer',
            LSHandlerRank: 'Owner',
            LSItemContentTypes: [`${bundle}.lesson`],
          },
        ],
        UTExportedTypeDeclarations: [
          {
            UTTypeIdentifier: `${bundle}.lesson`,
            UTTypeDescription: lessonFile.words,
            UTTypeConformsTo: ['public.data'],
            UTTypeTagSpecification: {
              'public.filename-extension': [lessonFile.extension],
              'public.mime-type': [lessonFile.mime],
            },
          },
        ],
        NSMicrophoneUsageDescription: 'Your voice is recorded for a talk-through, on this computer only.',
      },
      ...(env.LEADSIDE_MAC_IDENTITY && { osxSign: { identity: env.LEADSIDE_MAC_IDENTITY } }),
      ...(env.LEADSIDE_MAC_IDENTITY &&
        env.LEADSIDE_NOTARY_PROFILE && { osxNotarize: { keychainProfile: env.LEADSIDE_NOTARY_PROFILE } }),
    }
  }
  if (platform === 'win32') {
    return {
      ...common,
      win32metadata: {
        ProductName: product,
        FileDescription: product,
        CompanyName: 'The Leadside contributors',
      },
      ...(env.LEADSIDE_WINDOWS_CERTIFICATE && {
        windowsSign: {
          certificateFile: env.LEADSIDE_WINDOWS_CERTIFICATE,
          certificatePassword: env.LEADSIDE_WINDOWS_PASSWORD,
        },
      }),
    }
  }
  return common
}
