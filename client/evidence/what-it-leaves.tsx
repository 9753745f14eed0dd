import type { Reply } from '../../server/types.ts';
import { word } from '../say.ts';
import { sentence, shareWords } from '../words.ts';

/** What each outcome of the open check would leave of the suspects: why it is worth its minutes. */
export function WhatItLeaves({ outlook }: { outlook: Reply['outlook'] }) {
  if (!outlook) return null;
  return (
    <section aria-labelledby="outlook">
      <h3 id="outlook">{word('outlook')}</h3>
      <p class="hint">{sentence(outlook.check)}</p>
      <ul class="rows outlook">
        {outlook.outcomes.map(({ label, leaves, more }) => (
          <li class="row">
            <p class="outlook-if">{sentence(label)}</p>
            {leaves.length === 0 ? (
              <p class="nothing">{word('outlook-none')}</p>
            ) : (
              <ul class="outlook-left">
                {leaves.map((one) => (
                  <li>
                    {sentence(one.label)} <span class="share">{word('share-now', { share: shareWords(one.share) })}</span>
                  </li>
                ))}
                {more > 0 && <li class="share">{word('and-more', { n: more })}</li>}
              </ul>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
