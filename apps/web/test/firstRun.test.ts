import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('an empty server', () => {
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

  it('is set up by its first visitor, says what to do next, and lets only the right password in', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    await page.goto(server.url);
    await page.getByRole('heading', { level: 1, name: 'Set up your firm' }).waitFor();

    await page.getByRole('button', { name: 'Make the firm' }).click();
    await page.getByText('Name of the firm: fill this in.').waitFor();
    await page.getByLabel('Name of the firm').fill('Invented Station Service');
    await page.getByLabel('Your name').fill('Ines Quarry');
    await page.getByLabel('E-mail').fill('ines@demo.invalid');
    await page.getByLabel('Password').fill('short');
    await page.getByRole('button', { name: 'Make the firm' }).click();
    await page.getByText('Password: use at least 12 characters.').waitFor();
    await page.getByLabel('Password').fill('lantern-otter-quarry');
    await page.getByRole('button', { name: 'Make the firm' }).click();

    await page.getByRole('heading', { level: 1, name: 'What is due' }).waitFor();
    await page.getByText('No properties yet').waitFor();
    expect(
      await page.getByText('Invented firm: nothing here is real.').count(),
      'a real firm is not called invented',
    ).toBe(0);

    // What is not there yet is no fault, and leads on to what brings it.
    for (const path of ['/load/stock', '/plan']) {
      await page.goto(`${server.url}${path}`);
      await page.getByText('There is no branch yet').waitFor();
      expect(await page.getByRole('alert').count(), path).toBe(0);
    }
    await page.goto(`${server.url}/properties/nobody/drawing`);
    await page.getByRole('alert').getByText('What belongs here is not there.').waitFor();
    await page.goto(`${server.url}/properties`);
    await page.getByRole('link', { name: 'Take over what you have' }).click();
    await page.getByRole('heading', { level: 1, name: 'Take over what you have' }).waitFor();

    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
    await page.getByLabel('E-mail').fill('ines@demo.invalid');
    await page.getByLabel('Password').fill('not-the-password');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByText('E-mail and password do not go together.').waitFor();
    await page.getByLabel('Password').fill('lantern-otter-quarry');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { level: 1, name: 'What is due' }).waitFor();

    const added = await page.request.post(`${server.url}/api/people`, {
      headers: { origin: server.url },
      data: { name: 'Tam Reed', email: 'tam@demo.invalid', role: 'technician' },
    });
    expect(added.status()).toBe(201);
    const { oneTimePassword }: { oneTimePassword: string } = await added.json();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
    await page.getByLabel('E-mail').fill('tam@demo.invalid');
    await page.getByLabel('Password').fill(oneTimePassword);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { level: 1, name: 'Choose your own password' }).waitFor();
    await page.getByLabel('One-time password').fill(oneTimePassword);
    await page.getByLabel('Your own password').fill('thimble-heron-gravel');
    await page.getByRole('button', { name: 'Replace it' }).click();
    await page.getByRole('heading', { level: 1, name: 'What is due' }).waitFor();
    await page.getByText('Tam Reed, technician').waitFor();
    await close();
  });
});
