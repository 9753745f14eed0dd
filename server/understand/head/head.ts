/**
 * A linear head over named features with whole-number weights: a score is a sum that can be read word by word.
 * `bias` stands for no feature at all; a feature without a weight counts nothing.
 */
export interface Head {
  bias: number;
  weights: Readonly<Record<string, number>>;
}

/** The sum of the weights of these features. */
export function scoreOf(head: Head, features: ReadonlySet<string>): number {
  let sum = head.bias;
  for (const f of features) if (Object.hasOwn(head.weights, f)) sum += head.weights[f]!;
  return sum;
}

/** What spoke for and against, the strongest first. */
export function because(head: Head, features: ReadonlySet<string>): [feature: string, weight: number][] {
  return [...features]
    .filter((f) => Object.hasOwn(head.weights, f))
    .map((f): [string, number] => [f, head.weights[f]!])
    .sort((a, b) => Math.abs(b[1]) - Math.abs(a[1]) || (a[0] < b[0] ? -1 : 1));
}
