import './activation.ts';
