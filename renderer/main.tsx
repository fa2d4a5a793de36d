import { createRoot } from 'react-dom/client'
import { App } from './app/App.tsx'
import { startApp } from './store/app-store.ts'
import './theme/fonts.css'
import './theme/tokens.css'
import './theme/base.css'
import './theme/controls.css'

startApp()
createRoot(document.getElementById('root')!).render(<App />)
