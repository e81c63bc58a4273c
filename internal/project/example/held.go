package example

// Held is a torque link and a roll stop beside the mounts of Level.
const Held = `
[torque_link.upper]
on = [50, 0, 400]
to = [50, 350, 400]
rate = 300
dynamic = 1.4
loss = 0.1
rating = "9 kN"
diameter = 20
eye = 44
[roll_stop.left]
at = [200, -300, 50]
play = 4
back = 6
rate = 2000
rating = "15 kN"
diameter = 40
height = 30
`
