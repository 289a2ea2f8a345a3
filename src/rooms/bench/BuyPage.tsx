/** What to buy and of which timber: the shopping list, what it weighs and costs, and the stock it reckons with. */
import type { Parts } from '../../../geometry/parts/types';
import { Chapters } from './Chapters';
import { ShoppingPage } from './CuttingPages';
import type { PageProps } from './RailPages';
import { TimberPage } from './TimberPage';
import { TotalsPage } from './TotalsPage';

/** Timber and stock can be changed while what follows from them is still worked out. */
export function BuyPage({ parts, ...rest }: Omit<PageProps, 'parts'> & { readonly parts: Parts | null }) {
  return (
    <Chapters
      title="Buy" says="What the plan takes, less what is on hand."
      chapters={[
        ...(parts ? [{ title: 'Shopping list', body: <ShoppingPage parts={parts} {...rest} /> }, { title: 'Totals', body: <TotalsPage parts={parts} {...rest} /> }] : []),
        { title: 'Timber and stock', body: <TimberPage /> },
      ]}
    />
  );
}
