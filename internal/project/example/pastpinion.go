package example

// PastThePinion is a line whose powertrain can be moved back until its output stands behind
// the pinion: there the shaft runs back on itself, its joints meet at more than 90° and
// nothing of the line is known.
const PastThePinion = `format = 3
[powertrain]
output = [1250, 0, 0]
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = -40
setback = 0
[line.rear]
speed = "3000 rpm"
[line.rear.pinion]
at = [1500, 0, -52]
slope = "3 deg down to the rear"
[[line.rear.shaft]]
[limits]
joint_min = "0.1 deg"
`
