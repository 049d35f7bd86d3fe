import { listEveryFact } from '@sillwatch/ledger';
import {
  type Document,
  dayOfVisit,
  type MailPaper,
  type PaperLanguage,
  renewalLetter,
  stationListDocument,
  visitReport,
} from '@sillwatch/paper';
import type { Day, PropertyState } from '@sillwatch/trade';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { paperBasics } from '../routes/reports.ts';

/** What a paper is read with; `now` gives milliseconds since 1970. */
export interface PaperServices extends Pick<Services, 'ledger'> {
  readonly deps: Pick<Services['deps'], 'now'>;
}

export interface PropertyPaper {
  readonly document: Document;
  /** Of the file, without its ending. */
  readonly name: string;
  /** Of the visit; null where the paper is of none. */
  readonly day: Day | null;
}

/** One of the papers that go to a customer. Throws `not found` for a visit that was not made here, `paper cannot be written` otherwise. */
export async function propertyPaper(
  services: PaperServices,
  of: { readonly firm: string; readonly firmName: string },
  property: PropertyState,
  paper: MailPaper,
  { visit, asOf, lang }: { readonly visit: string | null; readonly asOf: Day; readonly lang: PaperLanguage },
): Promise<PropertyPaper> {
  const firm = await services.ledger.getFirm(of.firm);
  const basics = { ...paperBasics(of, property, firm, asOf, services.deps.now()), lang };
  switch (paper) {
    case 'visit report': {
      const day = dayOfVisit(property, visit);
      if (visit === null || day === null)
        throw new Problem('not found', 'No such visit was made at this property.');
      const facts = await listEveryFact(services.ledger, of.firm, { property: property.property });
      return { document: visitReport({ ...basics, facts, visit }), name: `visit-${visit}`, day };
    }
    case 'renewal letter': {
      const renewsOn = property.body?.agreement?.renewsOn ?? '';
      if (renewsOn === '')
        throw new Problem('paper cannot be written', 'The property has no agreement with a day of renewal.');
      const facts = await listEveryFact(services.ledger, of.firm, { property: property.property });
      return {
        document: renewalLetter({ ...basics, facts }),
        name: `renewal-${property.property}`,
        day: null,
      };
    }
    case 'station list':
      return { document: stationListDocument(basics), name: `stations-${property.property}`, day: null };
  }
}
