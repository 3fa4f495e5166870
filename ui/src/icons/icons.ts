// The icons that are used, and no others: Lucide (ISC), read at build time from its package.
import calendarDays from 'lucide-static/icons/calendar-days.svg?raw';
import camera from 'lucide-static/icons/camera.svg?raw';
import check from 'lucide-static/icons/check.svg?raw';
import chevronDown from 'lucide-static/icons/chevron-down.svg?raw';
import chevronLeft from 'lucide-static/icons/chevron-left.svg?raw';
import chevronRight from 'lucide-static/icons/chevron-right.svg?raw';
import chevronUp from 'lucide-static/icons/chevron-up.svg?raw';
import clipboardList from 'lucide-static/icons/clipboard-list.svg?raw';
import clock from 'lucide-static/icons/clock.svg?raw';
import copy from 'lucide-static/icons/copy.svg?raw';
import doorOpen from 'lucide-static/icons/door-open.svg?raw';
import download from 'lucide-static/icons/download.svg?raw';
import ellipsis from 'lucide-static/icons/ellipsis.svg?raw';
import eye from 'lucide-static/icons/eye.svg?raw';
import fileText from 'lucide-static/icons/file-text.svg?raw';
import folderOpen from 'lucide-static/icons/folder-open.svg?raw';
import gripVertical from 'lucide-static/icons/grip-vertical.svg?raw';
import info from 'lucide-static/icons/info.svg?raw';
import listChecks from 'lucide-static/icons/list-checks.svg?raw';
import mapPin from 'lucide-static/icons/map-pin.svg?raw';
import minus from 'lucide-static/icons/minus.svg?raw';
import octagonAlert from 'lucide-static/icons/octagon-alert.svg?raw';
import packageIcon from 'lucide-static/icons/package.svg?raw';
import pencilLine from 'lucide-static/icons/pencil-line.svg?raw';
import pencilRuler from 'lucide-static/icons/pencil-ruler.svg?raw';
import phone from 'lucide-static/icons/phone.svg?raw';
import plus from 'lucide-static/icons/plus.svg?raw';
import printer from 'lucide-static/icons/printer.svg?raw';
import redo from 'lucide-static/icons/redo-2.svg?raw';
import search from 'lucide-static/icons/search.svg?raw';
import share from 'lucide-static/icons/share-2.svg?raw';
import slidersHorizontal from 'lucide-static/icons/sliders-horizontal.svg?raw';
import spool from 'lucide-static/icons/spool.svg?raw';
import trash from 'lucide-static/icons/trash-2.svg?raw';
import triangleAlert from 'lucide-static/icons/triangle-alert.svg?raw';
import truck from 'lucide-static/icons/truck.svg?raw';
import undo from 'lucide-static/icons/undo-2.svg?raw';
import users from 'lucide-static/icons/users.svg?raw';
import moon from 'lucide-static/icons/moon.svg?raw';
import pause from 'lucide-static/icons/pause.svg?raw';
import play from 'lucide-static/icons/play.svg?raw';
import sun from 'lucide-static/icons/sun.svg?raw';
import user from 'lucide-static/icons/user.svg?raw';
import x from 'lucide-static/icons/x.svg?raw';
import zoomIn from 'lucide-static/icons/zoom-in.svg?raw';
import zoomOut from 'lucide-static/icons/zoom-out.svg?raw';

const files = {
  'calendar-days': calendarDays,
  camera,
  user,
  sun,
  play,
  pause,
  moon,
  check,
  'chevron-down': chevronDown,
  'chevron-left': chevronLeft,
  'chevron-right': chevronRight,
  'chevron-up': chevronUp,
  'clipboard-list': clipboardList,
  clock,
  copy,
  'door-open': doorOpen,
  download,
  ellipsis,
  eye,
  'file-text': fileText,
  'folder-open': folderOpen,
  'grip-vertical': gripVertical,
  info,
  'list-checks': listChecks,
  'map-pin': mapPin,
  minus,
  'octagon-alert': octagonAlert,
  package: packageIcon,
  'pencil-line': pencilLine,
  'pencil-ruler': pencilRuler,
  phone,
  plus,
  printer,
  redo,
  search,
  share,
  'sliders-horizontal': slidersHorizontal,
  spool,
  trash,
  'triangle-alert': triangleAlert,
  truck,
  undo,
  users,
  x,
  'zoom-in': zoomIn,
  'zoom-out': zoomOut,
} satisfies Record<string, string>;

/** The name of an icon in the sprite. */
export type IconName = keyof typeof files;

/** What stands between `<svg …>` and `</svg>` of an icon's file. */
export function drawing(svg: string): string {
  return svg.slice(svg.indexOf('>', svg.indexOf('<svg')) + 1, svg.lastIndexOf('</svg>')).trim();
}

/** Every icon as a symbol's name and drawing, for the sprite. */
export const symbols: { name: IconName; body: string }[] = (Object.keys(files) as IconName[]).map((name) => ({
  name,
  body: drawing(files[name]),
}));
