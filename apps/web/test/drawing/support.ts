import { type AnyFact, type FactBodies, type FactKind, tickClock, uuidV7 } from '@sillwatch/trade';
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';

/** Records a fact through the API as whoever is signed in. */
export async function record<K extends FactKind>(
  page: Page,
  base: string,
  property: string,
  kind: K,
  body: FactBodies[K],
  station: string | null = null,
): Promise<void> {
  const me = await ask<{ id: string; firm: { id: string } }>(page, `${base}/api/me`);
  const fact: AnyFact = {
    id: newId(),
    firm: me.firm.id,
    property,
    station,
    by: me.id,
    device: `device ${newId()}`,
    seq: 1,
    at: new Date().toISOString().replace(/\.\d{3}Z$/, '+00:00'),
    clock: tickClock(undefined, Date.now()),
    kind,
    body,
  };
  const response = await page.request.post(`${base}/api/facts`, { data: { facts: [fact] } });
  const { verdicts } = await response.json();
  if (verdicts?.[0]?.verdict !== 'accepted') throw new Error(JSON.stringify(await response.json()));
}

/** An invented property on which nothing is drawn, with the label profile of the demo. */
export async function addProperty(page: Page, base: string): Promise<string> {
  const { properties } = await ask<{ properties: readonly { property: string }[] }>(
    page,
    `${base}/api/properties?limit=1`,
  );
  const { body } = await ask<{ body: FactBodies['property added'] }>(
    page,
    `${base}/api/properties/${properties[0]?.property ?? ''}`,
  );
  const property = `drawn-${newId()}`;
  const invented = { ...body, name: 'Undrawn household (invented)', position: null };
  await record(page, base, property, 'property added', invented);
  return property;
}

/** A property of the demo on which a ring is drawn. */
export async function getDrawn(page: Page, base: string): Promise<string> {
  const { properties } = await ask<{ properties: readonly { property: string; stations: number }[] }>(
    page,
    `${base}/api/properties?limit=100`,
  );
  const found = properties.find(({ stations }) => stations > 10);
  if (found === undefined) throw new Error('the demo has no ring');
  return found.property;
}

export interface StoredProperty {
  readonly body: { readonly position: { readonly longitude: number; readonly latitude: number } | null };
  readonly structures: readonly {
    readonly structure: string;
    readonly name: string;
    readonly outline: readonly (readonly [number, number])[] | null;
  }[];
  readonly site: { readonly hardSurfaces: readonly { readonly kind: string }[] } | null;
  readonly stations: readonly {
    readonly station: string;
    readonly number: number;
    readonly position: readonly [number, number] | null;
    readonly installedOn: string;
    readonly model: string;
  }[];
}

export function getStored(page: Page, base: string, property: string): Promise<StoredProperty> {
  return ask<StoredProperty>(page, `${base}/api/properties/${property}`);
}

export async function ask<T>(page: Page, url: string): Promise<T> {
  const response = await page.request.get(url);
  if (!response.ok()) throw new Error(`${url}: ${response.status()}`);
  return response.json();
}

export async function openDrawing(page: Page, base: string, property: string): Promise<Locator> {
  await page.goto(`${base}/properties/${property}/drawing`);
  const picture = page.locator('.draw-sheet');
  await picture.waitFor();
  return picture;
}

/** One of the four panels beside the picture. */
export async function showPanel(page: Page, name: string): Promise<void> {
  const radio = page.locator('.draw-side > .choice').getByRole('radio', { name, exact: true });
  // On a phone the picture stands over what scrolls under it; what takes the focus comes out from there.
  await radio.focus();
  await radio.check({ force: true });
}

/** Types walls into the pen's field, one after another. */
export async function typeWalls(page: Page, ...walls: readonly string[]): Promise<void> {
  const field = page.getByLabel('Length of the next wall');
  for (const wall of walls) {
    await field.fill(wall);
    await field.press('Enter');
    await expect.poll(() => field.inputValue()).toBe('');
  }
}

/** A place by its numbers. */
export async function placeAt(page: Page, east: string, north: string): Promise<void> {
  const form = page.locator('.draw-tools');
  await form.getByLabel('East of the origin').fill(east);
  await form.getByLabel('North of the origin').fill(north);
  await form.getByLabel('North of the origin').press('Enter');
  await form.getByRole('button', { name: 'Put it there' }).click();
}

export async function store(page: Page): Promise<void> {
  await showPanel(page, 'Store');
  await page.getByRole('button', { name: 'Store it' }).click();
  await page.getByText(/^Stored: /).waitFor();
}

/** Corners to the millimetre, so that they can be told apart by eye. */
export function rounded(
  outline: readonly (readonly [number, number])[] | null | undefined,
): readonly (readonly [number, number])[] {
  return (outline ?? []).map(([x, y]) => [Math.round(x * 1000) / 1000 + 0, Math.round(y * 1000) / 1000 + 0]);
}

function newId(): string {
  return uuidV7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
}
