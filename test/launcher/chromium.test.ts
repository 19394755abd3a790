import fs from 'node:fs';
import path from 'node:path';
import { findChromium } from '@repo/launcher/chromium';
import { createTemporaryFolder } from './support/temporary-folder.js';

describe('The browser of the page tests', () => {
  const before = { ...process.env };
  let folder: string;

  beforeEach(() => {
    folder = createTemporaryFolder();
    process.env['PATH'] = folder;
    delete process.env['CHROMIUM_PATH'];
  });
  afterEach(() => {
    process.env['PATH'] = before['PATH'];
    if (before['CHROMIUM_PATH'] !== undefined) process.env['CHROMIUM_PATH'] = before['CHROMIUM_PATH'];
    fs.rmSync(folder, { recursive: true, force: true });
  });

  const install = (name: string): string => {
    const file = path.join(folder, name);
    fs.writeFileSync(file, '');
    return file;
  };

  it('is the one without windows where there is one, and any other where there is none', () => {
    expect(findChromium()).toBeNull();
    const whole = install('chromium');
    expect(findChromium()).toBe(whole);
    const shell = install('chromium-headless-shell');
    expect(findChromium()).toBe(shell);
  });

  it('is the one that is asked for, whatever else there is', () => {
    install('chromium-headless-shell');
    process.env['CHROMIUM_PATH'] = '/elsewhere/browser';
    expect(findChromium()).toBe('/elsewhere/browser');
  });
});
