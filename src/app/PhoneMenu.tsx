/** The phone's menu: the bench, the four rooms and how far each has come, boards and files, unit, light, and whether the screen stays awake. */
import { UNITS } from '../say/units';
import { placeName } from '../say/placeWords';
import { useAtBench } from '../state/atBench';
import { usePlan } from '../state/plan';
import { useUnits } from '../state/unit';
import { ROOMS, useView } from '../state/view';
import { Drawer } from '../ui/Drawer';
import { useRoomStatus } from './useRoomStatus';
import css from './PhoneMenu.module.css';

export function PhoneMenu({ offline }: { readonly offline: boolean }) {
  const { room, goTo, open, explain, theme, setTheme } = useView();
  const { unit, setUnit } = useUnits();
  const status = useRoomStatus();
  const awake = useAtBench((state) => state.awake);
  const plan = usePlan();
  const s = useView((state) => state.s);
  const standsAt = plan ? placeName(plan, s) : '…';
  return (
    <Drawer label="Menu" className={css.menu}>
      <nav className={css.rooms} aria-label="Rooms">
        <button type="button" onClick={() => open('atBench')}><b>At the bench</b><small>{standsAt}</small></button>
        {ROOMS.map(({ id, label }) => (
          <button key={id} type="button" aria-current={room === id ? 'page' : undefined} onClick={() => goTo(id)}>
            <b>{label}</b><small data-wants={status[id].wants || undefined} aria-busy={status[id].open || undefined}>{status[id].text}</small>
          </button>
        ))}
      </nav>
      <div className={css.rest}>
        <button type="button" onClick={() => open('boards')}><span>Another board, snapshots, files</span><i aria-hidden="true">›</i></button>
        <button type="button" onClick={() => explain(null)}><span>Words</span><i aria-hidden="true">›</i></button>
        <button type="button" onClick={() => open('share')}><span>Share a link</span><i aria-hidden="true">›</i></button>
      </div>
      <div className={css.choices}>
        <span className="segments" role="group" aria-label="Unit">
          {UNITS.map(({ id, label, hint }) => <button key={id} type="button" title={hint} aria-pressed={unit === id} onClick={() => setUnit(id)}>{label}</button>)}
        </span>
        <span className="segments" role="group" aria-label="Light">
          {(['paper', 'bench'] as const).map((id) => <button key={id} type="button" aria-pressed={theme === id} onClick={() => setTheme(id)}>{id === 'paper' ? 'paper' : 'dark'}</button>)}
        </span>
      </div>
      <label className={css.awake}>Keep the screen awake at the bench <input type="checkbox" checked={awake} onChange={({ target }) => useAtBench.setState({ awake: target.checked })} /></label>
      <p className={css.kept}>{offline ? '✓ Kept on this phone, works offline' : 'Not yet kept for use without a network'}</p>
    </Drawer>
  );
}
