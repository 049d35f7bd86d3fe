import './desk/shell.css';
import './desk/desk.css';
import './desk/station.css';
import { QueryClientProvider } from '@tanstack/react-query';
import { createQueryClient } from './api/queries.ts';
import { App } from './app.tsx';
import { DeskWords } from './words/language.tsx';

const client = createQueryClient();

/** The office's screens and what they stand on. */
export function DeskRoot() {
  return (
    <QueryClientProvider client={client}>
      <DeskWords>
        <App />
      </DeskWords>
    </QueryClientProvider>
  );
}
