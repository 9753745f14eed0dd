import type { Ask } from '../../server/types.ts';

/** The circuit as the server sends it. */
export type Wiring = NonNullable<Ask['wiring']>;
export type WiringBranch = Wiring['branches'][number];
export type WiringNode = Wiring['nodes'][number];
export type WiringRead = Wiring['reads'][number];
