import { Sign } from '../marks/signs.tsx';
import { useWords } from '../words/index.ts';
import { chooseTheme, useTheme } from './theme.ts';

/** Turns light into dark and back; what is chosen stays on this device. */
export function ThemeButton({ wordy = false }: { readonly wordy?: boolean }) {
  const w = useWords();
  const theme = useTheme();
  const other = theme === 'dark' ? 'light' : 'dark';
  const words = other === 'dark' ? w.app.turnDark : w.app.turnLight;
  return (
    <button
      type="button"
      className={wordy ? 'plain-button' : 'icon-button'}
      onClick={() => chooseTheme(other)}
      {...(wordy ? {} : { 'aria-label': words })}
    >
      <Sign name={other === 'dark' ? 'moon' : 'sun'} />
      {wordy && <span>{words}</span>}
    </button>
  );
}
