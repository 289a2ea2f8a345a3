/**
 * Firefox and WebKit from the system's packages (Debian: firefox-esr, webkit2gtk-driver, xvfb, libgl1-mesa-dri), each
 * in a window on a screen of its own: without a window Firefox has no WebGL. A machine without them starts none.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { accessSync, constants, existsSync, readdirSync } from 'node:fs';
import { createServer } from 'node:net';
import { delimiter, join } from 'node:path';
import puppeteer from 'puppeteer-core';
import { Browser, Builder, Button, Capabilities, Origin } from 'selenium-webdriver';
import type { Engine, Point } from './engine';

const WINDOW = { width: 1440, height: 900 };

function program(name: string): string | undefined {
  return (process.env.PATH ?? '').split(delimiter).filter(Boolean).map((folder) => join(folder, name)).find((path) => {
    try {
      accessSync(path, constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}

/** The small browser that comes with the driver of WebKit, by its folder of libraries. */
function miniBrowser(): string | undefined {
  const libraries = '/usr/lib';
  if (!existsSync(libraries)) return undefined;
  return readdirSync(libraries)
    .flatMap((machine) => ['webkit2gtk-4.1', 'webkit2gtk-4.0'].map((folder) => join(libraries, machine, folder, 'MiniBrowser')))
    .find((path) => existsSync(path));
}

const screenProgram = program('Xvfb');
const firefox = program('firefox-esr') ?? program('firefox');
const webkitDriver = program('WebKitWebDriver');
const webkit = miniBrowser();

/** Why an engine cannot be tried on this machine; undefined where it can. */
export const MISSING = {
  Firefox: screenProgram && firefox ? undefined : 'no firefox-esr or no Xvfb on this machine',
  WebKit: screenProgram && webkitDriver && webkit ? undefined : 'no WebKitWebDriver, MiniBrowser or Xvfb on this machine',
} as const;

/** A screen without a monitor. Resolves with its name and the call that ends it. */
async function screen(): Promise<{ display: string; close: () => void }> {
  const server = spawn(screenProgram ?? 'Xvfb', ['-displayfd', '1', '-screen', '0', '1600x1200x24', '-nolisten', 'tcp'], { stdio: ['ignore', 'pipe', 'ignore'] });
  const number = await new Promise<string>((resolve, reject) => {
    server.once('error', reject);
    server.once('exit', () => reject(new Error('Xvfb ended at once')));
    server.stdout.once('data', (data: Buffer) => resolve(data.toString().trim()));
  });
  return { display: `:${number}`, close: () => void server.kill() };
}

/** A port that is free now. */
const freePort = (): Promise<number> => new Promise((resolve, reject) => {
  const server = createServer().once('error', reject).listen(0, '127.0.0.1', () => {
    const address = server.address();
    server.close(() => (address && typeof address === 'object' ? resolve(address.port) : reject(new Error('no free port'))));
  });
});

/** Both draw by software; WebKit's own sandbox does not start for root, as in a container. */
const environment = (display: string) => ({ ...process.env, DISPLAY: display, LIBGL_ALWAYS_SOFTWARE: '1', WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1', NO_AT_BRIDGE: '1' });

/** Firefox over WebDriver BiDi. `proxy`: port of a proxy on this machine for plain http. */
async function startFirefox(display: string, proxy?: number): Promise<Engine> {
  const browser = await puppeteer.launch({
    browser: 'firefox', executablePath: firefox, headless: false, env: environment(display), args: ['--width=1460', '--height=1020'],
    defaultViewport: null,
    extraPrefsFirefox: {
      'app.update.enabled': false, 'datareporting.policy.dataSubmissionEnabled': false, 'ui.prefersReducedMotion': 1,
      ...(proxy === undefined ? {} : { 'network.proxy.type': 1, 'network.proxy.http': '127.0.0.1', 'network.proxy.http_port': proxy }),
    },
  });
  const page = await browser.newPage();
  await page.setViewport(WINDOW);
  return {
    name: 'Firefox',
    goto: async (url) => void (await page.goto(url, { waitUntil: 'load' })),
    js: <T>(expression: string) => page.evaluate(expression) as Promise<T>,
    async press(...[first, ...more]: readonly Point[]) {
      await page.mouse.move(first.x, first.y);
      await page.mouse.down();
      for (const point of more) await page.mouse.move(point.x, point.y);
      await page.mouse.up();
    },
    type: (text) => page.keyboard.type(text),
    picture: async () => Buffer.from(await page.screenshot()),
    close: () => browser.close(),
  };
}

/** WebKit by its own driver, the W3C way. */
async function startWebKit(display: string, proxy?: number): Promise<Engine> {
  const port = await freePort();
  const driver: ChildProcess = spawn(webkitDriver ?? '', [`--port=${port}`], { env: environment(display), stdio: 'ignore' });
  const server = `http://127.0.0.1:${port}`;
  for (let left = 100; ; left--) {
    const up = await fetch(`${server}/status`).then((answer) => answer.ok, () => false);
    if (up) break;
    if (left === 0) throw new Error('WebKitWebDriver does not answer');
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  const wanted = new Capabilities({
    browserName: 'MiniBrowser', 'webkitgtk:browserOptions': { binary: webkit, args: ['--automation', '--geometry=1440x980'] },
    ...(proxy === undefined ? {} : { proxy: { proxyType: 'manual', httpProxy: `127.0.0.1:${proxy}` } }),
  });
  const session = await new Builder().disableEnvironmentOverrides().forBrowser(Browser.SAFARI).withCapabilities(wanted).usingServer(server).build();
  await session.manage().window().setRect({ x: 0, y: 0, width: 1440, height: 980 });
  const at = ({ x, y }: Point) => ({ x: Math.round(x), y: Math.round(y), origin: Origin.VIEWPORT, duration: 0 });
  return {
    name: 'WebKit',
    goto: (url) => session.get(url),
    js: <T>(expression: string) => session.executeScript<T>(`return (${expression})`),
    async press(first, ...more) {
      let hand = session.actions().move(at(first)).press(Button.LEFT);
      for (const point of more) hand = hand.move(at(point));
      await hand.release(Button.LEFT).perform();
    },
    type: (text) => session.actions().sendKeys(text).perform(),
    picture: async () => Buffer.from(await session.takeScreenshot(), 'base64'),
    async close() {
      await session.quit();
      driver.kill();
    },
  };
}

/** Starts an engine on a screen of its own. Throws where it is not on this machine. */
export async function startEngine(name: keyof typeof MISSING, proxy?: number): Promise<Engine> {
  if (MISSING[name]) throw new Error(MISSING[name]);
  const { display, close } = await screen();
  try {
    const engine = await (name === 'Firefox' ? startFirefox(display, proxy) : startWebKit(display, proxy));
    return { ...engine, close: async () => { await engine.close(); close(); } };
  } catch (error) {
    close();
    throw error;
  }
}
