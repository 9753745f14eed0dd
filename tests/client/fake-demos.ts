import type { Demos } from '../../server/deps.ts';

const demo = {
  name: 'cold-after-storm',
  title: 'Cold since the storm',
  transcript: {
    scenario: 'A homeowner calls it cold after a night of thunder.',
    audience: 'homeowner',
    steps: [
      { say: 'drum turns but no heat since the storm' },
      { answer: { fact: 'gate-now', value: 'none' } },
      { say: 'it is electric' },
    ],
  },
};

export const fakeDemos: Demos = {
  list: async () => [{ name: demo.name, title: demo.title }],
  read: async (name) => (name === demo.name ? demo : undefined),
};
