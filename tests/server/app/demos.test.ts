import { expect, test } from 'vitest';
import { demosFrom } from '../../../server/demos.ts';

const demos = demosFrom({
  '../transcripts-demo/lost-leg.md': '\n# One leg lost\n\n**Caller:** it is cold.\n',
  '../transcripts-demo/burnt-coil.json': '{"title":"A burnt coil","turns":[]}',
  '../transcripts-demo/plain.txt': 'no heading',
});

test('talks are listed by name, each with its title', async () => {
  expect(await demos.list()).toEqual([
    { name: 'burnt-coil', title: 'A burnt coil' },
    { name: 'lost-leg', title: 'One leg lost' },
    { name: 'plain', title: 'plain' },
  ]);
});
test('one is read by its name alone, as data where it is data', async () => {
  expect(await demos.read('burnt-coil')).toEqual({
    name: 'burnt-coil',
    title: 'A burnt coil',
    transcript: { title: 'A burnt coil', turns: [] },
  });
  expect((await demos.read('lost-leg'))?.transcript).toContain('it is cold');
  expect(await demos.read('../package')).toBeUndefined();
  expect(await demos.read('constructor')).toBeUndefined();
});
