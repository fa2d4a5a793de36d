import { chmodSync, cpSync, existsSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { runCommand } from '../run-command.mjs'
import { SetUpProblem, say } from '../set-up-problem.mjs'
import { windowNeeds } from '../system-package-names.mjs'
import { commandPath } from '../system-packages.mjs'
import { iconPng, iconSvg } from './icon.mjs'
import { lessonFile, programNames } from './names.mjs'

export const desktopEntry = (isTestBuild, program) => {
  const { product, plain } = programNames(isTestBuild)
  return `[Desktop Entry]
Type=Application
Name=${product}
Comment=Lesson notes and swing-video annotation for golf coaches
Exec=${program} %f
Icon=${plain}
StartupWMClass=${plain}
Categories=AudioVideo;Education;Sports;
MimeType=${lessonFile.mime};
Terminal=false
`
}

/** The type of a colleague's lesson file (freedesktop.org, Shared MIME-info Database). */
export const mimeInfo = () => `<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="${lessonFile.mime}">
    <comment>${lessonFile.words}</comment>
    <glob pattern="*.${lessonFile.extension}"/>
  </mime-type>
</mime-info>
`

/** Debian's control file: what Electron stands on, and an ffmpeg, which is not in the package. */
export const controlFile = ({ version, isTestBuild, arch, kilobytes }) => {
  const needs = windowNeeds
    .filter(({ names }) => !names.includes('xvfb') && !names.includes('fonts-dejavu-core'))
    .map(({ names }) => names.join(' | '))
  return `Package: ${programNames(isTestBuild).plain}
Version: ${version}
Architecture: ${arch === 'x64' ? 'amd64' : arch}
Maintainer: the Leadside contributors <leadside@localhost>
Installed-Size: ${kilobytes}
Depends: ffmpeg, ${needs.join(', ')}
Section: video
Priority: optional
Description: Lesson notes and swing-video annotation for golf coaches
 Pairs swing clips with the numbers of a launch monitor, marks and measures the
 moments that matter, and hands the student a lesson package.
 Nothing leaves the computer unless the coach exports it.
`
}

async function kilobytesOf(folder) {
  const { output } = await runCommand('du', ['-sk', folder], { quiet: true })
  return Number.parseInt(output, 10)
}

/**
 * A Debian package of the unpacked program, made with dpkg-deb; undefined, with the reason said, where that is missing.
 * @returns {Promise<string | undefined>} the file
 */
export async function makeDeb({ unpacked, outFolder, work, version, isTestBuild, arch }) {
  if (!commandPath('dpkg-deb')) {
    say('no .deb: dpkg-deb is not there')
    return undefined
  }
  const { plain } = programNames(isTestBuild)
  const tree = path.join(work, 'deb')
  rmSync(tree, { recursive: true, force: true })
  const put = (file, contents) => {
    mkdirSync(path.dirname(path.join(tree, file)), { recursive: true })
    writeFileSync(path.join(tree, file), contents, { mode: 0o644 })
  }
  const home = `opt/${plain}`
  mkdirSync(path.join(tree, 'opt'), { recursive: true })
  cpSync(unpacked, path.join(tree, home), { recursive: true, verbatimSymlinks: true })
  // Chromium's helper where the system keeps programs from making name spaces; it must belong to root.
  chmodSync(path.join(tree, home, 'chrome-sandbox'), 0o4755)
  put(`usr/share/applications/${plain}.desktop`, desktopEntry(isTestBuild, `/${home}/${plain}`))
  put(`usr/share/mime/packages/${plain}.xml`, mimeInfo())
  put(`usr/share/icons/hicolor/scalable/apps/${plain}.svg`, iconSvg())
  for (const px of [48, 128, 256]) {
    put(`usr/share/icons/hicolor/${px}x${px}/apps/${plain}.png`, await iconPng(px))
  }
  mkdirSync(path.join(tree, 'usr/bin'), { recursive: true })
  symlinkSync(`/${home}/${plain}`, path.join(tree, 'usr/bin', plain))
  mkdirSync(path.join(tree, `usr/share/doc/${plain}`), { recursive: true })
  cpSync(
    path.join(unpacked, 'resources', 'LICENCES.txt'),
    path.join(tree, `usr/share/doc/${plain}/copyright`),
  )
  const kilobytes = await kilobytesOf(tree)
  put('DEBIAN/control', controlFile({ version, isTestBuild, arch, kilobytes }))
  // Folders made under a narrow umask would keep others from the program.
  await runCommand('chmod', ['-R', 'u+rwX,go+rX,go-w', tree], { quiet: true })
  chmodSync(path.join(tree, home, 'chrome-sandbox'), 0o4755)
  const file = path.join(outFolder, `${plain}_${version}_${arch === 'x64' ? 'amd64' : arch}.deb`)
  const { code, output } = await runCommand(
    'dpkg-deb',
    ['--root-owner-group', '-Zzstd', '-z3', '--build', tree, file],
    {
      quiet: true,
      timeoutSeconds: 600,
    },
  )
  rmSync(tree, { recursive: true, force: true })
  if (code !== 0) throw new SetUpProblem(`dpkg-deb failed:\n${output.trim()}`)
  return file
}

/** An AppImage, where its tool is there; it is in no registry, so nothing is fetched. */
export async function makeAppImage({ unpacked, outFolder, work, version, isTestBuild, arch }) {
  const tool = commandPath('appimagetool')
  if (!tool) {
    say('no AppImage: appimagetool is not there')
    return undefined
  }
  const { plain } = programNames(isTestBuild)
  const tree = path.join(work, `${plain}.AppDir`)
  rmSync(tree, { recursive: true, force: true })
  cpSync(unpacked, tree, { recursive: true, verbatimSymlinks: true })
  writeFileSync(path.join(tree, `${plain}.desktop`), desktopEntry(isTestBuild, plain))
  writeFileSync(path.join(tree, `${plain}.png`), await iconPng(256))
  symlinkSync(plain, path.join(tree, 'AppRun'))
  const file = path.join(outFolder, `${plain}-${version}-${arch}.AppImage`)
  const { code, output } = await runCommand(tool, ['--no-appstream', tree, file], {
    env: { ...process.env, ARCH: arch === 'x64' ? 'x86_64' : 'aarch64' },
    quiet: true,
    timeoutSeconds: 600,
  })
  rmSync(tree, { recursive: true, force: true })
  if (code !== 0 || !existsSync(file)) {
    say(`no AppImage: appimagetool could not make it (${output.trim().split('\n').at(-1)})`)
    return undefined
  }
  return file
}
