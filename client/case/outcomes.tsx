import { useEffect, useRef } from 'hono/jsx/dom';
import type { Part } from '../../server/types.ts';
import { Prose } from '../markdown.tsx';
import { hashOf } from '../route.ts';
import { word } from '../say.ts';
import { isWriting } from '../writing.ts';

/** What the case came to. Once nothing is left to ask, focus comes here instead of to a question; `turns` is 0 until then. */
export function Outcomes({ parts, turns }: { parts: Part[]; turns: number }) {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    if (turns === 0) return;
    if (!isWriting()) box.current?.focus({ preventScroll: true });
    box.current?.scrollIntoView({ block: 'start' });
  }, [turns]);
  if (parts.length === 0) return null;
  return (
    <section class="outcomes" aria-label={word('outcome')} tabindex={-1} ref={box}>
      {parts.map((part) => (
        <div class={`outcome ${part.kind}`}>
          <p class="tag">{word(part.kind === 'refer' ? 'who-next' : 'outcome')}</p>
          <Prose text={part.text} />
        </div>
      ))}
    </section>
  );
}

/** Where to go from an outcome. */
export const AfterOutcome = ({ id }: { id: string }) => (
  <p class="outcome-sheet">
    <a href={hashOf({ at: 'sheet', id })}>{word('sheet-for-case')}</a>
    <a href={hashOf({ at: 'start' })}>{word('another-case')}</a>
  </p>
);
