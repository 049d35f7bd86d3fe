import '@fontsource-variable/atkinson-hyperlegible-next';
import './tokens/tokens.css';
import './tokens/base.css';
import './shared/shared.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { beginRoot, Root } from './root.tsx';
import { applyTheme } from './shared/theme.ts';
import { currentLanguage, LanguageProvider, loadWords } from './words/language.tsx';

applyTheme();
const root = document.getElementById('root');
if (root === null) throw new Error('index.html has no #root');
beginRoot(location.pathname);
const words = await loadWords(currentLanguage());
createRoot(root).render(
  <StrictMode>
    <LanguageProvider first={words}>
      <Root />
    </LanguageProvider>
  </StrictMode>,
);
