/** A reading in one line: what, the number, and the plate if it matters. */
export const LineForm = ({ onLine }: { onLine: (text: string) => void }) => (
  <form
    class="one-line"
    onSubmit={(e: Event) => {
      e.preventDefault();
      onLine((e.target as HTMLFormElement).querySelector('input')?.value ?? '');
    }}
    noValidate
  >
    <label for="quick-line">In one line</label>
    <p class="hint" id="quick-line-hint">
      What, the reading, and the plate if it matters: “coil 9.8 ohm 5400 W 240 V”, “cut-off OL lead off”.
    </p>
    <div class="line-row">
      <input id="quick-line" class="wide" autocomplete="off" maxLength={200} aria-describedby="quick-line-hint" />
      <button type="submit" class="main-button">
        Judge line
      </button>
    </div>
  </form>
);
