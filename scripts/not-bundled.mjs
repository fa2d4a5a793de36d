/**
 * What can't be bundled: native packages, and one that looks for a file of its own tests. All else is: hundreds of
 * small files, each looked up on its own, were most of the time that the library took to start.
 */
export const notBundled = [
  /^node:/,
  /^electron$/,
  /^better-sqlite3$/,
  /^@napi-rs\/canvas$/,
  /^fluent-ffmpeg$/,
  /^@tensorflow\//,
  // Ten megabytes that only a thread needs.
  /^@techstark\//,
]
