import jsqr from 'jsqr';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { codeOf } from './support/authenticator.ts';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

const PASSWORD = 'lantern-otter-quarry';

/** Outside checks: the picture is read by jsQR, the codes are counted by hand as RFC 6238 does. */
describe.skipIf(isChromiumMissing())('the second factor', () => {
  let server: Running;
  let browser: Browser;

  beforeAll(async () => {
    await buildScreens();
    [server, browser] = await Promise.all([startSillwatch('serve'), launchChromium()]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
  });

  it('is switched on, asked for, replaced by a backup code where the phone is lost, and switched off', async () => {
    const { page, close } = await openPage(browser, 'phone', 'dark');
    const signIn = async () => {
      await page.getByRole('button', { name: 'Sign out' }).click();
      await page.getByLabel('E-mail').fill('ines@demo.invalid');
      await page.getByLabel('Password').fill(PASSWORD);
      await page.getByRole('button', { name: 'Sign in' }).click();
      await page.getByLabel('Code from your authenticator app').waitFor();
    };
    const isIn = () => page.getByText('Ines Quarry, owner').waitFor();
    await page.goto(server.url);
    for (const [label, text] of [
      ['Name of the firm', 'Invented Station Service'],
      ['Your name', 'Ines Quarry'],
      ['E-mail', 'ines@demo.invalid'],
      ['Password', PASSWORD],
    ] as const)
      await page.getByLabel(label).fill(text);
    await page.getByRole('button', { name: 'Make the firm' }).click();
    await page.getByRole('link', { name: 'Your sign-in' }).click();
    const factor = page.locator('section.sheet', { hasText: 'Second factor' });
    await factor.getByLabel('Password').fill('not-the-password');
    await factor.getByRole('button', { name: 'Set it up' }).click();
    await factor.getByRole('alert').getByText('The password is not right').waitFor();
    await factor.getByLabel('Password').fill(PASSWORD);
    await factor.getByRole('button', { name: 'Set it up' }).click();

    await page.locator('.code-picture path').waitFor();
    const uri = readPicture(
      (await page.locator('.code-picture').getAttribute('viewBox')) ?? '',
      (await page.locator('.code-picture path').getAttribute('d')) ?? '',
    );
    expect(uri).toMatch(/^otpauth:\/\/totp\//);
    const key = (await page.locator('p.secret').textContent())?.replaceAll(' ', '');
    expect(new URL(uri).searchParams.get('secret')).toBe(key);
    const [backup = ''] = await page.locator('.secret-list li').allTextContents();
    await page.getByLabel('Code from your authenticator app').fill('000000');
    await page.getByRole('button', { name: 'Switch it on' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Code from your authenticator app').fill(codeOf(uri));
    await page.getByRole('button', { name: 'Switch it on' }).click();
    await page.getByText('It is on: at each sign-in').waitFor();

    await signIn();
    await page.getByLabel('Code from your authenticator app').fill('000000');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByText('This code is not right, or no longer valid.').waitFor();
    await page.getByLabel('Code from your authenticator app').fill(codeOf(uri));
    await page.getByRole('button', { name: 'Sign in' }).click();
    await isIn();

    for (const isFirst of [true, false]) {
      await signIn();
      await page.getByRole('button', { name: 'I do not have the phone' }).click();
      await page.getByLabel('Backup code').fill(backup);
      await page.getByRole('button', { name: 'Sign in' }).click();
      if (isFirst) await isIn();
      else await page.getByText('This backup code is not right, or was used before.').waitFor();
    }
    await page.getByRole('button', { name: 'Back to e-mail and password' }).click();
    await page.getByLabel('Password').waitFor();

    await page.goto(server.url);
    await page.getByLabel('E-mail').fill('ines@demo.invalid');
    await page.getByLabel('Password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByLabel('Code from your authenticator app').fill(codeOf(uri));
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('link', { name: 'Your sign-in' }).click();
    await factor.getByLabel('Password').fill(PASSWORD);
    await factor.getByRole('button', { name: 'Switch it off' }).click();
    await factor.getByRole('button', { name: 'Set it up' }).waitFor();

    await page.getByLabel('Password now').fill(PASSWORD);
    await page.getByLabel('New password').fill('thimble-heron-gravel');
    await page.getByRole('button', { name: 'Change it' }).click();
    await page.getByText('The password is changed.').waitFor();
    await close();
  });
});

/** The picture's own squares as pixels, three to a module. */
function readPicture(viewBox: string, path: string): string {
  const [left = 0, , side = 0] = viewBox.split(' ').map(Number);
  const scale = 3;
  const width = side * scale;
  const pixels = new Uint8ClampedArray(4 * width * width).fill(255);
  for (const [, x = '', y = ''] of path.matchAll(/M(\d+) (\d+)h1v1h-1z/g))
    for (let down = 0; down < scale; down += 1)
      for (let along = 0; along < scale; along += 1) {
        const at = ((Number(y) - left) * scale + down) * width + (Number(x) - left) * scale + along;
        pixels.fill(0, 4 * at, 4 * at + 3);
      }
  return jsqr.default(pixels, width, width)?.data ?? '';
}
