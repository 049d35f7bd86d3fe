import type { Ledger } from '@sillwatch/ledger';
import {
  type FirmState,
  type LabelProfile,
  type PropertyState,
  STATION_MODELS,
  type StationModel,
} from '@sillwatch/trade';

/** The models that every firm has, and its own, which win. */
export function modelsOf(firm: FirmState): Readonly<Record<string, StationModel>> {
  return { ...Object.fromEntries(STATION_MODELS.map((model) => [model.id, model])), ...firm.models };
}

export function profileOf(property: PropertyState, firm: FirmState): LabelProfile | undefined {
  return property.body === null ? undefined : firm.profiles[property.body.profile];
}

const PAGE = 500;

/** Every property of the firm (of one branch), page by page, so that a large firm never stands in memory at once. */
export async function* eachProperty(
  ledger: Ledger,
  firm: string,
  branch: string | undefined,
): AsyncGenerator<PropertyState> {
  let after: string | undefined;
  for (;;) {
    const page = await ledger.listProperties(firm, {
      limit: PAGE,
      ...(branch === undefined ? {} : { branch }),
      ...(after === undefined ? {} : { after }),
    });
    yield* page;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) return;
    after = last.property;
    // A firm of thousands takes a second: phones that record meanwhile get their turn.
    await new Promise((resolve) => setImmediate(resolve));
  }
}
