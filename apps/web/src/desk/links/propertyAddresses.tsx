import { useWords } from '../../words/index.ts';
import { Addresses } from './addresses.tsx';

const PURPOSES = ['property page', 'property calendar'] as const;

interface Props {
  readonly property: string;
  /** What is offered first. */
  readonly first: (typeof PURPOSES)[number];
}

/** What a customer can be given: a page with his reports, a calendar of his visits. */
export function PropertyAddresses({ property, first }: Props) {
  const w = useWords();
  return (
    <Addresses
      title={w.desk.handOut.addresses}
      how={w.desk.handOut.addressesHow}
      path={`/api/properties/${encodeURIComponent(property)}/links`}
      nameOf={({ purpose }) => w.desk.handOut.purposes[purpose]}
      choice={w.desk.handOut.what}
      choices={[first, ...PURPOSES.filter((one) => one !== first)].map((one) => [
        one,
        w.desk.handOut.purposes[one],
      ])}
      usualDays="90"
      bodyOf={(purpose) => ({ purpose })}
    />
  );
}
