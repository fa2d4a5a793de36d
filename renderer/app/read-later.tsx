import { useEffect, useState, type ComponentType } from 'react'

/**
 * A screen whose code is read apart: when it is first shown, or before by `ahead`. Not React's own way for it, which shows an empty
 * place first even where the code is there already, and then holds the screen back for 300 ms.
 */
export const readLater = <Props extends object>(read: () => Promise<ComponentType<Props>>) => {
  let known: ComponentType<Props> | null = null
  const ahead = async () => (known ??= await read())
  function Screen(props: Props) {
    const [Shown, setShown] = useState(() => known)
    useEffect(() => {
      if (Shown) return
      ahead().then(
        (screen) => setShown(() => screen),
        // Thrown while it is painted, like any other fault of a screen.
        (error: unknown) =>
          setShown(() => {
            throw error
          }),
      )
    }, [Shown])
    return Shown && <Shown {...props} />
  }
  return { Screen, ahead }
}
