/** The values in ascending order, as a new typed array. */
export const ascending = (values: ArrayLike<number>): Float64Array => Float64Array.from(values).sort()
