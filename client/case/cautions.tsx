import { Mark } from '../mark.tsx';
import { Prose } from '../markdown.tsx';
import { word } from '../say.ts';

/** What to mind before the open question is answered. */
export const Cautions = ({ texts }: { texts: readonly string[] }) => (
  <div class="cautions" role="note" aria-label={word('caution')}>
    <p class="caution-head">
      <Mark is="up" /> {word('caution')}
    </p>
    {texts.map((text) => (
      <Prose text={text} />
    ))}
  </div>
);
