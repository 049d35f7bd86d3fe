import { useId, useState } from 'react';
import { Link } from 'wouter';
import { useOffice } from '../../api/office.ts';
import { usePeople } from '../../api/queries.ts';
import { Field } from '../../shared/field.tsx';
import { Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { Addresses } from '../links/addresses.tsx';
import { PropertyAddresses } from '../links/propertyAddresses.tsx';
import { usePropertyNames } from './names.ts';
import { PlanLinks } from './planLinks.tsx';

/** Addresses that calendars subscribe to: of technicians for their rounds, of customers for their visits. */
export function CalendarsPage() {
  const w = useWords();
  const office = useOffice();
  const people = usePeople();
  const drivers = (office.data?.technicians ?? []).filter(({ active }) => active);
  return (
    <Page title={w.desk.calendars.title}>
      <PlanLinks />
      <p className="quiet">{w.desk.calendars.lead}</p>
      {office.isError && <Trouble error={office.error} retry={() => void office.refetch()} />}
      <Addresses
        title={w.desk.calendars.rounds}
        how={w.desk.calendars.roundsHow}
        path="/api/links"
        nameOf={({ person }) => people.data?.get(person ?? '') ?? person ?? ''}
        choice={w.desk.calendars.whose}
        choices={drivers.map(({ person, name }) => [person, name])}
        usualDays="400"
        bodyOf={(person) => ({ person })}
      />
      <Customers />
    </Page>
  );
}

/** The property by its name; names that several share are told apart by their town. */
function Customers() {
  const w = useWords();
  const names = usePropertyNames();
  const listId = useId();
  const [text, setText] = useState('');
  const wanted = text.trim().toLowerCase();
  const options = [...names].map(([property, { name, town }]) => ({ property, words: `${name}, ${town}` }));
  const fits = options.filter(({ words }) => words.toLowerCase().startsWith(wanted));
  const exact = fits.find(({ words }) => words.toLowerCase() === wanted);
  const chosen = wanted === '' ? undefined : (exact ?? (fits.length === 1 ? fits[0] : undefined));
  return (
    <section className="office-part">
      <h2>{w.desk.calendars.customers}</h2>
      <p className="quiet">{w.desk.calendars.customersHow}</p>
      <div className="form">
        <Field
          label={w.desk.calendars.property}
          hint={w.desk.calendars.propertyHint}
          list={listId}
          value={text}
          autoComplete="off"
          onChange={(event) => setText(event.target.value)}
          error={
            wanted !== '' && names.size > 0 && fits.length === 0 ? w.desk.calendars.noProperty : undefined
          }
        />
        <datalist id={listId}>
          {options.map(({ property, words }) => (
            <option key={property} value={words} />
          ))}
        </datalist>
      </div>
      {chosen !== undefined && (
        <>
          <p>
            <Link href={`/properties/${chosen.property}`}>{chosen.words}</Link>
          </p>
          <PropertyAddresses key={chosen.property} property={chosen.property} first="property calendar" />
        </>
      )}
    </section>
  );
}
