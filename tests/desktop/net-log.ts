/**
 * Addresses of other machines in a net log (what Chromium itself writes down of its network): asked for, or looked up.
 * WebRTC binds sockets on this machine; they are connected to none.
 */
export const addressesIn = (log: string): string[] => {
  const found = [...log.matchAll(/"(?:url|host|address|server)":"([^"]+)"/g)].map(([, at]) => at!)
  const own = /^(app|media|data|blob|devtools|chrome|about|file):|^$|^(0\.0\.0\.0|\[::\]):\d+$/
  return [...new Set(found.filter((at) => !own.test(at)))]
}
