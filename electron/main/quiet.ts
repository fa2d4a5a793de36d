import { app, session, type WebContents } from 'electron'

/** Where the page comes from while it is being developed; a shipped build listens to nobody's word about that. */
export const developmentUrl: string | undefined = app.isPackaged
  ? undefined
  : process.env.ELECTRON_RENDERER_URL

/** What the window may ask for: its own page and clips, and what it made itself. */
const ownAddress = /^(app|media|data|blob|devtools):/

const isOwn = (url: string): boolean => {
  if (ownAddress.test(url)) return true
  if (developmentUrl === undefined) return false
  // Vite speaks to its page by web socket, too.
  return url.replace(/^ws/, 'http').startsWith(new URL(developmentUrl).origin)
}

/** Before the app is ready: the browser's own errands are called off, and no name of another machine can be looked up. */
export const quietBrowser = () => {
  for (const errand of [
    'disable-background-networking',
    'disable-component-update',
    'disable-domain-reliability',
    'no-pings',
  ]) {
    app.commandLine.appendSwitch(errand)
  }
  app.commandLine.appendSwitch('host-resolver-rules', 'MAP * ~NOTFOUND, EXCLUDE localhost')
  app.commandLine.appendSwitch('force-webrtc-ip-handling-policy', 'disable_non_proxied_udp')
}

/** Once it is ready: no request leaves the window, and no dictionary is fetched. */
export const quietSession = () => {
  const { defaultSession } = session
  defaultSession.setSpellCheckerEnabled(false)
  defaultSession.setSpellCheckerLanguages([])
  defaultSession.webRequest.onBeforeRequest((details, answer) => answer({ cancel: !isOwn(details.url) }))
}

/** WebRTC without a proxy has no way out. */
export const quietWindow = (contents: WebContents) => {
  contents.setWebRTCIPHandlingPolicy('disable_non_proxied_udp')
}
