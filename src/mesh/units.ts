/** Units of length that files of triangles come in. */

/** Millimetres in one; inch and foot exact by definition (NIST SP 811, appendix B). The words of the 3MF core specification. */
export const MM_PER = {
  micron: 0.001,
  millimeter: 1,
  centimeter: 10,
  inch: 25.4,
  foot: 304.8,
  meter: 1000,
} as const;
export type MeshUnit = keyof typeof MM_PER;
