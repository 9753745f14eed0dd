import { Mark } from '../mark.tsx';
import { word } from '../say.ts';
import type { Talk, TalkState } from './talk.ts';

interface Props {
  text: string;
  onTry?: () => void;
  /** What a broken line kept back goes out. */
  onSend?: () => void;
  onClose?: () => void;
}

/** What went wrong with the last thing sent, told once. */
export const Trouble = ({ text, onTry, onSend, onClose }: Props) => (
  <div class="trouble" role="alert">
    <p>
      <Mark is="square" />
      {text}
    </p>
    {onSend && (
      <button type="button" class="main-button" onClick={onSend}>
        {word('send-now')}
      </button>
    )}
    {onTry && (
      <button type="button" class="plain-button" onClick={onTry}>
        {word('try-again')}
      </button>
    )}
    {onClose && (
      <button type="button" class="plain-button" onClick={onClose}>
        {word('close-note')}
      </button>
    )}
  </div>
);

interface UnsentProps {
  talk: Talk;
  state: TalkState;
  /** What went wrong, in words. */
  text: string;
  /** Told the words that got through after all. */
  onSent?: (said: string) => void;
}
/** What went wrong with a turn; once the line is there again, what it kept back can be sent. */
export function UnsentTrouble({ talk, state: { unsent }, text, onSent }: UnsentProps) {
  const again = async () => {
    if ((await unsent?.again()) && unsent?.said) onSent?.(unsent.said);
  };
  return <Trouble text={text} onSend={unsent?.now ? () => void again() : undefined} onClose={talk.quiet} />;
}
