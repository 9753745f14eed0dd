/** A shape with every field it can have, for two to be held against each other; which are optional is left out of account. */
export type Whole<T> = T extends readonly (infer E)[]
  ? Whole<E>[]
  : T extends object
    ? { [Key in keyof T]-?: Whole<Exclude<T[Key], undefined>> }
    : T;

/** true where two types are one, else `never`. */
export type Same<A, B> = [A, B] extends [B, A]
  ? keyof A extends keyof B
    ? keyof B extends keyof A
      ? true
      : never
    : never
  : never;
