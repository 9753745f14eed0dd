interface Props {
  text: string;
  onTry?: () => void;
  onClose?: () => void;
}

/** What went wrong with the last thing sent, told once. */
export const Trouble = ({ text, onTry, onClose }: Props) => (
  <div class="trouble" role="alert">
    <p>
      <span aria-hidden="true">■ </span>
      {text}
    </p>
    {onTry && (
      <button type="button" class="plain-button" onClick={onTry}>
        Try again
      </button>
    )}
    {onClose && (
      <button type="button" class="plain-button" onClick={onClose}>
        Close note
      </button>
    )}
  </div>
);
