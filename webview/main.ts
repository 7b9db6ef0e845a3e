import './styles/main.css';
import { installAnnouncements } from './components/announce.ts';
import { registerControls } from './components/toolkit.ts';
import { startOverlay } from './overlay/overlay.ts';
import { followPlace } from './viewer/place.ts';
import { startViewer } from './viewer/viewer.ts';

registerControls();
installAnnouncements(document.body);
followPlace();
const root = document.getElementById('app');
if (root === null) throw new Error('the page has no place to draw in');
if (document.body.dataset.page === 'overlay') startOverlay(root);
else startViewer(root);
