/** Digits press choices; the last resort of a long list, "none", has 0. */
export const DIGITS = 9;

/** The number that presses a choice, where there is one. */
export const Key = ({ n }: { n: number }) => (
  <span class="key" aria-hidden="true">
    {n <= DIGITS ? n : ''}
  </span>
);
/** The same for who does not see it. @param at counted from 0 */
export const shortcutOf = (at: number): string | undefined => (at < DIGITS ? String(at + 1) : undefined);
