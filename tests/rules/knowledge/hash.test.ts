import fc from 'fast-check';
import { expect, test } from 'vitest';
import { canonical, fnv1a64 } from '../../../rules/knowledge/hash.ts';

// The definition, in big integers.
function byDefinition(text: string): string {
  let h = 0xcbf29ce484222325n;
  for (let i = 0; i < text.length; i++)
    for (const byte of [text.charCodeAt(i) & 0xff, text.charCodeAt(i) >>> 8])
      h = BigInt.asUintN(64, (h ^ BigInt(byte)) * 0x100000001b3n);
  return h.toString(16).padStart(16, '0');
}

const units = fc.array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 60 });

test('the hash in small words equals its definition in big integers', () => {
  fc.assert(
    fc.property(
      units.map((u) => String.fromCharCode(...u)),
      (text) => fnv1a64(text) === byDefinition(text),
    ),
    { seed: 1 },
  );
});

test('canonical JSON does not see the order of keys, but that of lists', () => {
  expect(canonical({ b: 1, a: [2, { d: null, c: 'x' }] })).toBe('{"a":[2,{"c":"x","d":null}],"b":1}');
  expect(canonical([1, 2])).not.toBe(canonical([2, 1]));
});
