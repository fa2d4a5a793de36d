/** Names of the shipped program. A test build says what it is wherever a coach could meet it. */
export const programNames = (isTestBuild) => ({
  /** As people read it. */
  product: isTestBuild ? 'Leadside (test build)' : 'Leadside',
  /** As folders and packages are named. */
  plain: isTestBuild ? 'leadside-test-build' : 'leadside',
  bundle: isTestBuild ? 'tool.leadside.test' : 'tool.leadside',
})

/** A lesson given to a colleague, as systems know files: the ending and a type of its own. */
export const lessonFile = {
  extension: 'leadside-lesson',
  mime: 'application/x-leadside-lesson',
  words: 'Leadside lesson',
}
