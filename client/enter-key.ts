/** Enter sends what a field of several lines holds; with Shift it is a new line, and while a word is put together it is neither. */
export const onEnter = (send: (field: HTMLTextAreaElement) => void) => (e: KeyboardEvent) => {
  if (e.key !== 'Enter' || e.shiftKey || e.isComposing) return;
  e.preventDefault();
  send(e.target as HTMLTextAreaElement);
};
