/** What is under way while it is asked what a reading is of, and why there is no answer. */
import { Working } from './Working';

export const AskedWork = () => <Working job="asked" tell={() => ({ text: 'Working out what it moves' })} failed="What it moves could not be worked out." />;
