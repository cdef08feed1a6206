/** Things that went wrong beside the calculation, until they are put away. */
import { putAway, usePage } from '../state/page-store.ts';

export function Notices() {
  const notices = usePage((state) => state.notices);
  return (
    <div className="notices" role="alert">
      {notices.map((notice) => (
        <div className="notice" key={notice.id}>
          <span>{notice.message}</span>
          {notice.action && (
            <button type="button" className="button button-small" onClick={notice.action.run}>
              {notice.action.name}
            </button>
          )}
          <button type="button" className="button button-small" onClick={() => putAway(notice.id)}>
            Put away
          </button>
        </div>
      ))}
    </div>
  );
}
