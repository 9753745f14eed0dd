/** Is somebody writing just now? Then the focus is left where it is: an Enter meant for their words would go to whatever took it. */
export function isWriting(): boolean {
  const at = document.activeElement;
  return (
    (at instanceof HTMLTextAreaElement || (at instanceof HTMLInputElement && at.type !== 'radio' && at.type !== 'checkbox')) &&
    at.value !== ''
  );
}
