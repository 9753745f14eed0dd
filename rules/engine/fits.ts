/** Every attribute asked for is one the machine has. */
export const fitsCircuit = (x: { fits: readonly string[] }, attributes: readonly string[]): boolean =>
  x.fits.every((a) => attributes.includes(a));
