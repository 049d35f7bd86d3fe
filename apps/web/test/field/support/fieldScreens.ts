import type { Page } from 'playwright-core';
import { EMAIL, PASSWORD } from './firm.ts';
import { FEEDING, SERVED, servedStation } from './servedYard.ts';

export interface Walker {
  readonly page: Page;
  readonly url: string;
  /** Called on every screen, and on every state of a screen that looks different. */
  readonly look: (name: string) => Promise<void>;
}

const PIN = '471100';
const PRACTICE = 'practice-yard';

/** Goes through every yard screen, whatever the language: by place, never by words. */
export async function walkFieldScreens({ page, url, look }: Walker): Promise<void> {
  const go = async (path: string): Promise<void> => {
    await page.evaluate(
      `history.pushState(null, '', ${JSON.stringify(path)}); dispatchEvent(new PopStateEvent('popstate'))`,
    );
    await page.locator('h1').first().waitFor();
  };
  const answer = (at: number) => page.locator('.ask .answer-button').nth(at).click();
  const record = async (): Promise<void> => {
    const before = page.url();
    await page.locator('.yard-actions-inline .button-main').click();
    await page.waitForURL((next) => next.href !== before);
  };
  /** Practice: the first decision, before the steps. */
  const decide = async (at: number): Promise<void> => {
    await page.locator('#ask-decide').waitFor();
    await page.locator('.decide-answers .answer-button').nth(at).click();
    await page.locator('.step').first().waitFor();
  };
  const station = (scene: string) => go(`/field/practice/p/${PRACTICE}/s/practice-${scene}`);
  const asked = () => page.locator('.ask').waitFor();

  await page.goto(`${url}/field`);
  await page.locator('input[type=email]').fill(EMAIL);
  await look('sign-in');
  await page.locator('input[type=password]').fill(PASSWORD);
  await page.locator('form .button-main').click();
  await page.locator('.stop').first().waitFor();
  await page.locator('.load > summary').click();
  await look('today');
  await page.locator('.choice-option').nth(1).click();
  await page.locator('.map-stop').first().waitFor();
  await look('today-map');
  await go('/field/phone');
  for (const fold of await page.locator('details > summary').all()) await fold.click();
  await look('phone');
  const pins = page.locator('input[type=password]');
  const lock = page.locator('details:has(input[type=password]) .button');
  await pins.nth(0).fill(PIN);
  await pins.nth(1).fill(PIN);
  await lock.first().click();
  await lock.nth(2).click();
  await page.locator('main.alone summary').click();
  await pins.fill(`${PIN}0`);
  await page.locator('.button-main').click();
  await page.locator('.field-error', { hasText: 'PIN' }).waitFor();
  await look('locked');
  await pins.fill(PIN);
  await page.locator('.button-main').click();
  await page.locator('.yard').waitFor();

  await go(`/field/p/${SERVED}`);
  await page.locator('.yard-plan svg').waitFor();
  await look('property-before');
  await page.locator('.yard-actions .button-main').click();
  await page.locator('.yard-actions a.button-main').waitFor();
  await look('property');
  await go(`/field/p/${SERVED}/s/${servedStation(FEEDING)}`);
  await asked();
  await look('station-feeding');
  await go(`/field/p/${SERVED}/scan`);
  await page.locator('form').waitFor();
  await page.waitForTimeout(300);
  await look('scan');

  await page.goto(`${url}/field/practice`);
  await page.locator('.button-main').waitFor();
  await look('practice-door');
  await page.locator('.button-main').click();
  await page.locator('.yard-plan svg').waitFor();
  await page.locator('.yard-actions .button-main').click();
  await station('feeding');
  await asked();
  await page.locator('.rest > summary').first().click();
  await look('ask-termites');
  await answer(3);
  await look('ask-bait');
  await answer(2);
  await look('ask-rest');
  await answer(1);
  await page.locator('.ask .choice').first().waitFor();
  await look('ask-rest-open');
  await page.locator('.ask .button-main').click();
  await page.locator('#ask-decide').waitFor();
  await look('practice-decide');
  await decide(5);
  await page.locator('.why > summary').first().click();
  await look('steps-feeding');
  await record();
  await station('hit');
  await asked();
  await answer(2);
  await answer(0);
  await decide(1);
  await page.locator('.sheet.rest > summary').first().click();
  await look('steps-hit');
  await record();
  await station('lost');
  await asked();
  await page.locator('.ask-cannot .button').first().click();
  await look('ask-why');
  await answer(0);
  await decide(8);
  await look('steps-lost');
  await record();
  await station('broken');
  await asked();
  await answer(0);
  await answer(0);
  await decide(5);
  await page.locator('.steps ~ .button').click();
  await look('steps-yearly');
  await record();
  await station('broken');
  await page.locator('.history > summary').click();
  await look('station-recorded');
  await page.locator('.timeline .link-button').first().click();
  await page.locator('.why-field').waitFor();
  await look('correct');
  await go(`/field/practice/p/${PRACTICE}/s/practice-quiet/change`);
  await page.locator('.answer-button').nth(0).click();
  await page.locator('.yard-plan svg').click({ position: { x: 50, y: 50 } });
  await look('change-moved');
  await page.locator('.answer-button').nth(2).click();
  await look('change-replaced');
  await go(`/field/practice/p/${PRACTICE}/new`);
  await page.locator('.yard-plan svg').click({ position: { x: 50, y: 50 } });
  await look('new-station');
  await go(`/field/practice/p/${PRACTICE}/leave`);
  await page.locator('.customer').waitFor();
  await look('leave');
  await page.locator('.yard-actions .button-main').click();
  await page.locator('a.button-main').waitFor();
  await look('closed');
  await page.locator('a.button-main').click();
  await page.locator('.compared').first().waitFor();
  await look('compare');
}
