import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'

export const worksHandlers = ({ reports }: LibraryContext): HandlersNamed<'works'> => ({
  'works.report': (options) => reports.works(options),
})
