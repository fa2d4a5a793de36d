import { phrase, type Phrase } from '../../../shared-core/wording/phrase.ts'

/**
 * Why a file or folder can't be read now, for behind its name. Windows says EBUSY of a file that another program holds, EPERM or
 * EACCES of one that it may not open; a card that was pulled out gives EIO, ENODEV or ENXIO, a network drive that is away the rest.
 */
export const reasonOf = (error: unknown): Phrase => {
  const { code, message } = error as NodeJS.ErrnoException
  switch (code) {
    case 'ENOENT':
    case 'ENOTDIR':
      return phrase('unread.missing')
    case 'EACCES':
    case 'EPERM':
      return phrase('unread.forbidden')
    case 'EBUSY':
    case 'ETXTBSY':
    case 'EAGAIN':
      return phrase('unread.busy')
    case 'EIO':
    case 'ENODEV':
    case 'ENXIO':
    case 'EHOSTDOWN':
    case 'EHOSTUNREACH':
    case 'ENETUNREACH':
    case 'ENOTCONN':
    case 'ESTALE':
    case 'ETIMEDOUT':
      return phrase('unread.away')
    default:
      return phrase('unread.said', { reason: code ?? message })
  }
}
