/** A shop's profile as a file (`*.shop.json`): read with every error found, and written. */
import * as z from 'zod/mini';
import { valueText, type FieldError } from '../../geometry/design/fields';
import { schemaErrors, toPresent } from '../../geometry/design/read';
import { parseText } from '../../geometry/design/text';
import { DRAWING_LAYERS, type DrawingLayer } from './drawing';
import { SHOP_COLOURS, type Shop, type ShopColour } from './shop';

const KIND = { format: 'railwright-shop', version: 1, name: 'shop profile' } as const;

const layer = z.strictObject({
  /** As the shop's machine knows it; letters that no file format reads otherwise: own choice. */
  name: z.string().check(z.maxLength(40), z.regex(/^[A-Za-z][A-Za-z0-9 _-]*$/), z.minLength(1)),
  colour: z.enum(Object.keys(SHOP_COLOURS) as [ShopColour, ...ShopColour[]]),
  sent: z.boolean(),
});

const shopSchema = z.strictObject({
  format: z.literal(KIND.format),
  version: z.literal(KIND.version),
  layers: z.strictObject({ cut: layer, score: layer, label: layer, stock: layer, note: layer }),
  curves: z.enum(['arcs', 'lines']),
  within: z.number().check(z.minimum(0.001), z.maximum(0.5)),
});

export type ShopResult = { readonly ok: true; readonly shop: Shop } | { readonly ok: false; readonly errors: readonly FieldError[] };

/** What is wrong with layers beside each other. */
function layerErrors(layers: Shop['layers']): FieldError[] {
  const taken = new Map<string, DrawingLayer>();
  return DRAWING_LAYERS.flatMap((id): FieldError[] => {
    const { name, sent, colour } = layers[id];
    // Capitals, and a space from a low line, are not told apart everywhere.
    const bare = name.toLowerCase().replace(/ /g, '_');
    const other = taken.get(bare);
    taken.set(bare, other ?? id);
    return [
      ...(other ? [{ field: `layers.${id}.name`, value: valueText(name), allowed: 'each layer a name of its own', message: `is the name of layers.${other} already` }] : []),
      ...(id !== 'cut' && sent && colour === layers.cut.colour ? [{ field: `layers.${id}.colour`, value: valueText(colour), allowed: 'any but that of layers.cut', message: 'is what is cut: a machine that goes by colour would cut this too' }] : []),
      ...(id === 'cut' && !sent ? [{ field: 'layers.cut.sent', value: 'false', allowed: 'true', message: 'without it nothing is cut' }] : []),
    ];
  });
}

/** Check a profile that is parsed already, its format and version left out where it comes from a form. */
export function checkShop(input: unknown): ShopResult {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    return { ok: false, errors: [{ field: '', value: valueText(input), allowed: 'an object', message: 'a shop profile holds one object' }] };
  }
  const present = toPresent(input as Record<string, unknown>, {}, KIND);
  if ('field' in present) return { ok: false, errors: [present] };
  const parsed = shopSchema.safeParse(present.value);
  if (!parsed.success) return { ok: false, errors: schemaErrors(parsed.error.issues, present.value, shopSchema, 'shop profile') };
  const errors = layerErrors(parsed.data.layers);
  if (errors.length > 0) return { ok: false, errors };
  const { layers, curves, within } = parsed.data;
  return { ok: true, shop: { layers, curves, within } };
}

/** Read the text of a shop profile: every error found, nothing clamped. */
export function readShop(text: string): ShopResult {
  const parsed = parseText(text);
  return parsed.ok ? checkShop(parsed.value) : parsed;
}

/** A profile with what its file begins with. */
export const asShopFile = (shop: Shop): object => ({ format: KIND.format, version: KIND.version, layers: shop.layers, curves: shop.curves, within: shop.within });

/** A profile as the text of its file. */
export const writeShop = (shop: Shop): string => `${JSON.stringify(asShopFile(shop), null, 2)}\n`;
