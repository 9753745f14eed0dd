import { useEffect } from 'hono/jsx/dom';

/**
 * Digits press the choice of that number; a letter on the question itself goes on in the free-text field. Only while
 * focus is in the record and not in a field, so that nobody's screen reader or speech input sets anything off.
 */
export function useAnswerKeys(): void {
  useEffect(() => {
    const onKey = (e: KeyboardEvent) => {
      if (e.ctrlKey || e.metaKey || e.altKey || e.isComposing || e.key.length !== 1) return;
      const at = document.activeElement;
      if (!at?.closest('#record') || at.matches('textarea, select, input:not([type=checkbox])') || at.closest('.change')) return;
      if (/\d/.test(e.key)) {
        const target = document.querySelector<HTMLElement>(`.question [data-key="${e.key}"]`);
        if (!target || (target as HTMLButtonElement).disabled) return;
        e.preventDefault();
        target.click();
      } else if (/\p{L}/u.test(e.key) && at.matches('#question, #record')) {
        document.querySelector<HTMLElement>('#own-words')?.focus();
      }
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);
}
