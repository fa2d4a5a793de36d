import react from '@vitejs/plugin-react'
import { defineConfig } from 'vitest/config'

// Two projects: everything that runs in Node, and the real window (one at a time, it needs a display).
export default defineConfig({
  plugins: [react()],
  test: {
    projects: [
      {
        test: {
          name: 'core',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/desktop/**'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          pool: 'forks',
        },
      },
      {
        test: {
          name: 'desktop',
          include: ['tests/desktop/**/*.test.ts'],
          testTimeout: 240_000,
          hookTimeout: 240_000,
          pool: 'forks',
          fileParallelism: false,
        },
      },
    ],
  },
})
