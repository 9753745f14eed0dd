/**
 * The small shapes that stand before a word. Drawn here and not typed: hardly a font has all of them, and another one's shape has
 * another size. The word beside it says the same.
 */
export const MARKS = {
  square: 'M1 1h10v10H1z',
  up: 'M6 1l5.5 10H.5z',
  down: 'M6 11l5.5-10H.5z',
  diamond: 'M6 0l6 6-6 6-6-6z',
  hollow: 'M6 0l6 6-6 6-6-6zm0 2.6L2.6 6 6 9.4 9.4 6z',
  half: 'M1 1h10v10H1zm5 1.4v7.2h3.6V2.4z',
  waves:
    'M1 1.5q2.5-2 5 0t5 0v1.8q-2.5 2-5 0t-5 0zM1 5.1q2.5-2 5 0t5 0v1.8q-2.5 2-5 0t-5 0zM1 8.7q2.5-2 5 0t5 0v1.8q-2.5 2-5 0t-5 0z',
  // a contact that burns: a flame's outline
  flame:
    'M6 0c.6 2.6 4.4 4.2 4.4 7.6A4.4 4.4 0 0 1 6 12a4.4 4.4 0 0 1-4.4-4.4C1.6 5.4 3.2 4.6 3.6 2.8 4.8 3.6 5.8 2 6 0zm0 6.4c-1 1.2-2 1.8-2 3.2a2 2 0 0 0 4 0c0-1.4-1-2-2-3.2z',
  // a ring that wants filling: the temperature is missing
  ring: 'M6 0a6 6 0 1 1 0 12A6 6 0 0 1 6 0zm0 2a4 4 0 1 0 0 8 4 4 0 0 0 0-8z',
  asks: 'M2.5 3.8C2.5 1.5 4 .3 6 .3s3.5 1.2 3.5 3.1c0 2.4-2.6 2.5-2.6 4.5H5.1c0-3 2.5-3 2.5-4.4 0-1-.7-1.5-1.6-1.5s-1.7.6-1.7 1.8zM5 9.6h2v2H5z',
  dash: 'M1 5h10v2H1z',
} as const;
export type MarkName = keyof typeof MARKS;
