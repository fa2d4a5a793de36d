/** The values in ascending order, as a new typed array. */
export const ascending = (values: ArrayLike<number>): Float64Array => new Float64Array(values).sort()
