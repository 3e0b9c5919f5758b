/** Stands for the last entry where an id is asked for. */
export const LAST = 'last';
