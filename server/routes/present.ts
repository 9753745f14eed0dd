/** A key that is there with nothing in it is not the same as no key, once objects are merged. */
export const present = <T extends object>(value: T): T =>
  Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as T;
