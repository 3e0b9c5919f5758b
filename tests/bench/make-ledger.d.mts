export function makeLedger(events: number, readingEvery?: number): { text: string; lastAt: string };
