/** A blob's bytes as float64 numbers (the buffer itself may not be aligned). */
export const asFloat64 = (bytes: Buffer): Float64Array => new Float64Array(new Uint8Array(bytes).buffer)
