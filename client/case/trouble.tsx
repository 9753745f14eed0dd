import { Mark } from '../mark.tsx';
import { word } from '../say.ts';

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
