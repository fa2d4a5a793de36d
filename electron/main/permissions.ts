import { session } from 'electron'
import { isOwnPage } from './window.ts'

/** What our own page may use: hearing the microphone, for a talk-through. Never the camera. */
export const isAllowed = (
  permission: string,
  url: string,
  mediaTypes: readonly (string | undefined)[],
): boolean =>
  permission === 'media' &&
  isOwnPage(url) &&
  mediaTypes.length > 0 &&
  mediaTypes.every((type) => type === 'audio')

/** Everything that a page may ask of the machine is refused, but sound for our own page. */
export const guardPermissions = () => {
  session.defaultSession.setPermissionRequestHandler((_contents, permission, answer, details) => {
    const mediaTypes = 'mediaTypes' in details ? (details.mediaTypes ?? []) : []
    answer(isAllowed(permission, details.requestingUrl, mediaTypes))
  })
  session.defaultSession.setPermissionCheckHandler((_contents, permission, origin, details) =>
    isAllowed(permission, `${origin.replace(/\/$/, '')}/`, [details.mediaType]),
  )
}
