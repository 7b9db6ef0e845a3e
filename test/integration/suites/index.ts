import './activation.ts';
import './opening.ts';
import './living.ts';
import './spec-editing.ts';
import './deciding.ts';
import './evaluating.ts';
import './comparison-commands.ts';
import './virtual-folder.ts';
