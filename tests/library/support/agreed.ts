/** A student's agreement to filming, keeping and sharing, without an end. @param givenBy who said so */
export const agreed = (givenBy = 'Robin') => ({
  filming: true,
  storing: true,
  sharing: true,
  until: null,
  givenBy,
  isGuardian: false,
})
