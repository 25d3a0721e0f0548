import './app.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { askToKeep } from './sync/kept.ts';
import { watchVersions } from './versions.svelte.ts';

mount(App, { target: document.getElementById('app')! });
watchVersions();
void askToKeep();
