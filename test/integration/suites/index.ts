import './activation.ts';
import './opening.ts';
import './living.ts';
