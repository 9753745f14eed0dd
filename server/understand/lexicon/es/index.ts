import type { LexiconFiles } from '../shape.ts';
import answers from './answers.json' with { type: 'json' };
import aside from './aside.json' with { type: 'json' };
import askBack from './ask-back.json' with { type: 'json' };
import choices from './choices.json' with { type: 'json' };
import facts from './facts.json' with { type: 'json' };
import families from './families.json' with { type: 'json' };
import grammar from './grammar.json' with { type: 'json' };
import hazards from './hazards.json' with { type: 'json' };
import numbers from './numbers.json' with { type: 'json' };
import points from './points.json' with { type: 'json' };
import readings from './readings.json' with { type: 'json' };
import spelling from './spelling.json' with { type: 'json' };
import talk from './talk.json' with { type: 'json' };
import units from './units.json' with { type: 'json' };
import words from './words.json' with { type: 'json' };

/** Spanish, as people type and dictate it in North America, English words of the trade among it. */
export const files = {
  answers,
  aside,
  askBack,
  choices,
  facts,
  families,
  grammar,
  hazards,
  numbers,
  points,
  readings,
  spelling,
  talk,
  units,
  words,
} as unknown as LexiconFiles;
