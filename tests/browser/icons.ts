/** npm run icons: draws the page's PNG icons again from public/icon.svg. */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { startChromium } from './site';

const folder = new URL('../../public/', import.meta.url);
const svg = await readFile(new URL('icon.svg', folder), 'utf8');
const server = await startChromium();
try {
  const browser = await chromium.connect(server.wsEndpoint());
  for (const side of [180, 192, 512]) {
    const page = await browser.newPage({ viewport: { width: side, height: side } });
    await page.setContent(`<style>body{margin:0}svg{display:block}</style>${svg.replace('<svg ', `<svg width="${side}" height="${side}" `)}`);
    await page.screenshot({ path: fileURLToPath(new URL(`icon-${side}.png`, folder)) });
    await page.close();
  }
} finally {
  await server.close();
}
