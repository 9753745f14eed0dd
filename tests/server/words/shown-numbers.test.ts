import { expect, test } from 'vitest';
import { shownNumber } from '../../../server/conversation/words/numbers.ts';

/** Fixed points of the two scales: water freezes at 32 °F, boils at 212 °F; a warm room and a hot duct lie between. */
test.each([
  [0, '32 °F'],
  [25, '77 °F'],
  [60, '140 °F'],
  [100, '212 °F'],
])('%i °C are %s where people read Fahrenheit, and themselves where they do not', (celsius, shown) => {
  expect(shownNumber(celsius, '°C', 'us')).toBe(shown);
  expect(shownNumber(celsius, '°C', 'metric')).toBe(`${celsius} °C`);
});
