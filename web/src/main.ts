import { mount } from 'svelte';
import './app.css';
import App from './app.svelte';

const target = document.getElementById('app');
if (target) mount(App, { target });
