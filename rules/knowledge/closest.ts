/** The nearest of some names, where it is near enough to be a slip of the pen; else undefined. */
export function closest(name: string, among: Iterable<string>): string | undefined {
  let best: string | undefined;
  let least = Math.max(2, Math.floor(name.length / 3)) + 1;
  for (const other of among) {
    const d = distance(name, other, least);
    if (d < least) {
      least = d;
      best = other;
    }
  }
  return best;
}

// Edit distance, given up as soon as it cannot come below `most`.
function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) >= most) return most;
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next[j] = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
    row = next;
  }
  return row[b.length]!;
}

/** "; did you mean "x"?" or nothing. */
export const orDidYouMean = (name: string, among: Iterable<string>): string => {
  const near = closest(name, among);
  return near === undefined ? '' : `; did you mean "${near}"?`;
};
