import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { getJson } from '../../api/client.ts';
import { useOffice } from '../../api/office.ts';
import type { Me } from '../../api/types.ts';
import { localTimeText } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { LanguageOfPaper, usePaperLanguage } from '../../shared/paperLanguage.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import { addressOf, Outcome } from './outcome.tsx';

interface SentRound {
  readonly person: string;
  readonly day: string;
  readonly visits: readonly { readonly works: readonly unknown[] }[];
}

/** A round of one day on paper. Rounds that were sent out; a technician sees his own. */
export function WorkListPaper({ me }: { readonly me: Me }) {
  const w = useWords();
  const { papers: words } = w.desk;
  const [lang, setLang] = usePaperLanguage();
  const [day, setDay] = useState(() => localTimeText(new Date()).slice(0, 10));
  const [chosen, setChosen] = useState('');
  const rounds = useQuery({
    queryKey: ['rounds of a day', day],
    queryFn: () => getJson<{ readonly rounds: readonly SentRound[] }>(`/api/rounds?from=${day}&to=${day}`),
    enabled: day !== '',
  });
  const found = rounds.data?.rounds ?? [];
  const round = found.find(({ person }) => person === chosen) ?? found[0];
  const path = round === undefined ? '' : `/api/reports/worklists/${encodeURIComponent(round.person)}/${day}`;
  const at = (format: string) => addressOf(path, { format, lang });
  return (
    <>
      <div className="sheet form form-columns">
        <Field label={words.day} type="date" value={day} onChange={(event) => setDay(event.target.value)} />
        <Rounds me={me} rounds={found} value={round?.person ?? ''} onPick={setChosen} />
        <LanguageOfPaper value={lang} onPick={setLang} />
      </div>
      {rounds.isLoading && <Loading />}
      {rounds.isError && <Trouble error={rounds.error} retry={() => void rounds.refetch()} />}
      {rounds.isSuccess && round === undefined && (
        <Notice title={words.noRound}>
          <p>{words.noRoundRemedy}</p>
        </Notice>
      )}
      {round !== undefined && (
        <Outcome
          name={words.names.worklist}
          holds={words.holdsRound(
            round.visits.length,
            round.visits.reduce((sum, { works }) => sum + works.length, 0),
          )}
          files={(['pdf', 'csv', 'html'] as const).map((format) => ({ format, href: at(format) }))}
          preview={at('html')}
        />
      )}
    </>
  );
}

interface RoundsProps {
  readonly me: Me;
  readonly rounds: readonly SentRound[];
  readonly value: string;
  readonly onPick: (person: string) => void;
}

/** Whose round; a technician has only his own. */
function Rounds({ me, rounds, value, onPick }: RoundsProps) {
  return rounds.length > 0 && (me.role === 'lead' || me.role === 'owner') ? (
    <NamedRounds rounds={rounds} value={value} onPick={onPick} />
  ) : null;
}

function NamedRounds({ rounds, value, onPick }: Omit<RoundsProps, 'me'>) {
  const w = useWords();
  const office = useOffice();
  const nameOf = (person: string) =>
    office.isPending ? '…' : (office.data?.technicians.find((one) => one.person === person)?.name ?? person);
  return (
    <Select
      label={w.desk.papers.technician}
      value={value}
      options={rounds.map(({ person }) => [person, nameOf(person)] as const)}
      onPick={onPick}
    />
  );
}
