import type { Problem } from '../../shared-core/problem.ts'

/** What fills the places of a message that tells of a problem: `{what}{where}. {toDo}`. */
export const problemPlaces = (problem: Pick<Problem, 'what' | 'where' | 'toDo'> | null | undefined) => ({
  what: problem?.what ?? '',
  where: problem?.where ? ` (${problem.where})` : '',
  toDo: problem?.toDo ?? '',
})
