import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { getJson, postJson } from '../../api/client.ts';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

interface Message {
  readonly id: string;
  readonly property: string;
  readonly to: string;
  readonly subject: string;
  readonly state: 'queued' | 'sending' | 'sent' | 'refused' | 'cancelled';
  readonly attempts: number;
  readonly changedAt: string;
  readonly detail: string;
}

/** What waits, went, or was refused; of one property or of the firm. */
export function MailList({ property }: { readonly property?: string }) {
  const w = useWords();
  const mail = useQuery({
    queryKey: ['mail', property ?? ''],
    queryFn: () =>
      getJson<{ readonly isSetUp: boolean; readonly messages: readonly Message[] }>(
        `/api/mail?limit=100${property === undefined ? '' : `&property=${encodeURIComponent(property)}`}`,
      ),
  });
  const act = useSubmit(({ id, word }: { readonly id: string; readonly word: 'retry' | 'cancel' }) =>
    postJson<unknown>(`/api/mail/${encodeURIComponent(id)}/${word}`, {}),
  );
  if (mail.isPending) return <Loading />;
  if (mail.isError) return <Trouble error={mail.error} retry={() => void mail.refetch()} />;
  const { isSetUp, messages } = mail.data;
  return (
    <>
      {!isSetUp && (
        <Notice title={w.desk.handOut.notSetUp} tone="open">
          <p>{w.desk.handOut.notSetUpRemedy}</p>
        </Notice>
      )}
      <Refusal error={act.error} />
      {messages.length === 0 && <p className="nothing">{w.desk.handOut.noMail}</p>}
      <ul className="office-list">
        {messages.map((message) => (
          <li key={message.id} className="sheet office-line">
            <div>
              <p>
                <Link href={`/properties/${message.property}`}>{message.subject}</Link>
              </p>
              <p className="quiet small">
                {message.to}, {w.desk.handOut.states[message.state]},{' '}
                {message.changedAt.slice(0, 16).replace('T', ' ')}
              </p>
              {message.detail !== '' && <p className="quiet small">{message.detail}</p>}
            </div>
            <div className="buttons">
              {(message.state === 'queued' || message.state === 'refused') && (
                <button
                  type="button"
                  className="button"
                  onClick={() => act.mutate({ id: message.id, word: 'retry' })}
                >
                  {w.desk.handOut.retry}
                </button>
              )}
              {message.state === 'queued' && (
                <button
                  type="button"
                  className="button"
                  onClick={() => act.mutate({ id: message.id, word: 'cancel' })}
                >
                  {w.desk.handOut.cancel}
                </button>
              )}
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}
