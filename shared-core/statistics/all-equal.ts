/**
 * True if all readings are the same number ("no spread"). Decided by comparing the values, never by a
 * computed standard deviation, which rounding may leave at 1e-16. True for one reading and for none.
 */
export const allEqual = (values: readonly number[]): boolean => values.every((value) => value === values[0])
