//! The one table of inputs. Forms, checks, messages, file keys, handles and random test designs
//! are all derived from it; nothing else states a limit or a default.

use crenel_words::{Label, Message, place};

use crate::ring::Side;
use crate::stack::Facing;
use crate::units::Quantity;

/// One row of the table of inputs.
#[derive(Debug)]
pub struct Field {
    /// Which input this is.
    pub id: FieldId,
    /// Key in files and reports; the unit is part of it.
    pub key: &'static str,
    /// Words beside the input.
    pub label: &'static str,
    /// What the number measures; limits and steps are in this quantity's unit.
    pub quantity: Quantity,
    /// Smallest value accepted.
    pub min: f64,
    /// Largest value accepted.
    pub max: f64,
    /// Value of a new design. Version 1 of the saved form leaves out what equals it, so it is frozen.
    pub default: f64,
    /// Step of an arrow key.
    pub fine: f64,
    /// Step of Shift and an arrow key.
    pub coarse: f64,
    /// One line for somebody who has not met the word before.
    pub explain: &'static str,
}

/// Makes the names of all inputs and the table of them from the same rows.
macro_rules! fields {
    ($($id:ident $key:literal $label:literal $quantity:ident $min:literal .. $max:literal
        = $default:literal step $fine:literal / $coarse:literal, $explain:literal;)*) => {
        /// Names every number that a user can give, in the order of [`FIELDS`].
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum FieldId {
            $(#[doc = $explain] $id,)*
        }

        /// Every input, in the order of [`FieldId`].
        pub static FIELDS: &[Field] = &[$(Field {
            id: FieldId::$id,
            key: $key,
            label: $label,
            quantity: Quantity::$quantity,
            min: $min,
            max: $max,
            default: $default,
            fine: $fine,
            coarse: $coarse,
            explain: $explain,
        }),*];
    };
}

// Limits are those of the geometry and of motorcycle-sized parts: common practice, no source.
fields! {
    InnerDiameter "inner_diameter_mm" "Inner diameter" Length 4.0 .. 400.0 = 44.0 step 0.1 / 1.0,
        "Across the inner ends of the dogs, through the shaft axis.";
    OuterDiameter "outer_diameter_mm" "Outer diameter" Length 6.0 .. 500.0 = 60.0 step 0.1 / 1.0,
        "Across the outer ends of the dogs, through the shaft axis.";
    Count "count" "Dog positions" Count 1.0 .. 96.0 = 6.0 step 1.0 / 3.0,
        "Number of dog positions round the ring, evenly spaced. A removed dog leaves its position empty.";
    TipWidth "tip_width_deg" "Dog width" Angle 0.5 .. 340.0 = 24.0 step 0.1 / 1.0,
        "Angle from flank to flank across the tip of one dog, at the mean diameter.";
    Gap "gap_deg" "Gap or slot width" Angle 0.2 .. 340.0 = 36.0 step 0.1 / 1.0,
        "Angle of the opening between two dogs, or of one slot, at the mean diameter.";
    Height "height_mm" "Dog height" Length 0.2 .. 50.0 = 5.0 step 0.05 / 0.5,
        "From the tip face down to the web; for a slot, its depth.";
    BackCutDrive "back_cut_drive_deg" "Drive-side undercut" Angle -15.0 .. 20.0 = 0.0 step 0.1 / 1.0,
        "Angle of the flank that carries power, measured from the shaft axis. Plus is undercut (narrower at the \
         root); minus is worn or tapered.";
    BackCutCoast "back_cut_coast_deg" "Coast-side undercut" Angle -15.0 .. 20.0 = 0.0 step 0.1 / 1.0,
        "Angle of the flank that carries load [on the overrun|when coasting], measured from the shaft axis. Plus is \
         undercut; minus is worn or tapered.";
    EdgeBreak "edge_break_mm" "Edge break" Length 0.0 .. 5.0 = 0.0 step 0.05 / 0.5,
        "Chamfer or radius on the edges between tip and flanks, made by hand or by wear.";
    RootFillet "root_fillet_mm" "Root fillet" Length 0.0 .. 5.0 = 0.5 step 0.05 / 0.5,
        "Radius where the flank meets the web. A sharp root starts cracks.";
    FirstDog "first_dog_deg" "[Centre|Center] angle of dog 1" Angle 0.0 .. 360.0 = 0.0 step 0.5 / 5.0,
        "Angle from the datum mark to the middle of dog 1, counter-clockwise, looking at the dogs of this ring.";
    Centre "centre_deg" "[Centre|Center] angle" Angle -360.0 .. 360.0 = 0.0 step 0.1 / 1.0,
        "Angle from the datum mark to the middle of this dog, counter-clockwise, looking at the dogs of this ring.";
    ShortenTo "shorten_to_mm" "New height" Length 0.1 .. 50.0 = 2.5 step 0.05 / 0.5,
        "Height of the dog after shortening.";
    Phase "phase_deg" "Phase" Angle 0.0 .. 360.0 = 30.0 step 0.5 / 5.0,
        "How far ring A is turned from the position with both datum marks in line, counter-clockwise, looking at the \
         dogs of ring A.";
    Overlap "overlap_mm" "Overlap in gear" Length -20.0 .. 50.0 = 4.5 step 0.05 / 0.5,
        "How far the tallest tips, as found, have passed each other along the shaft; minus is clearance. Shortening \
         or lapping them reduces it.";
    SlipSpeed "slip_rpm" "Speed difference" Speed -20000.0 .. 20000.0 = 300.0 step 10.0 / 100.0,
        "How much faster the input side turns than the output side as the shift begins. Plus, as on an upshift, \
         brings the drive flanks together; minus, as on a downshift, the coast flanks.";
    ShiftForce "shift_force_n" "Shift force" Force 1.0 .. 5000.0 = 120.0 step 1.0 / 10.0,
        "Force of the fork on the sliding gear, along the shaft. The starting value is from memory.";
    MovingMass "moving_mass_kg" "Moving mass" Mass 0.005 .. 20.0 = 0.3 step 0.01 / 0.1,
        "The sliding gear and everything that moves along the shaft with it. The starting value is from memory.";
    DrumSpeed "drum_speed_m_per_s" "Drum-driven fork speed" Velocity 0.001 .. 10.0 = 0.12 step 0.01 / 0.1,
        "Highest speed along the shaft that the drum track and the rider's foot can give the fork. The starting value \
         is from memory.";
    StartSpeed "start_speed_m_per_s" "Axial speed at tip level" Velocity 0.0 .. 10.0 = 0.12 step 0.01 / 0.1,
        "Speed of the sliding gear along the shaft as the tips come level. The starting value is from memory.";
    HoldDepth "hold_depth_mm" "Holding depth" Length 0.05 .. 20.0 = 1.0 step 0.05 / 0.5,
        "Smallest overlap at which a flank holds instead of throwing the gear back out. The starting value is from \
         memory.";
    TipFriction "tip_friction" "Tip friction" Ratio 0.0 .. 0.8 = 0.1 step 0.01 / 0.05,
        "Friction coefficient between tips: about 0.05 polished and oiled, 0.10 as machined and oiled, 0.15 or more \
         if rough or burred (common practice, no source).";
    Inertia "inertia_kg_m2" "Reflected inertia at the dogs" ShaftInertia 0.000001 .. 10.0 = 0.001 step 0.0001 / 0.001,
        "Moment of inertia that has to change speed in the shift, reflected to the dogs: the input shaft with its \
         gears, plus the engine if the clutch is engaged. The starting value is from memory.";
    Drag "drag_nm" "Drag" Torque 0.0 .. 100.0 = 0.0 step 0.1 / 1.0,
        "Drag torque from oil and bearings that brings the two sides to one speed while the tips rub. On a \
         downshift, drag on the input side does the opposite: leave it at 0.";
    StrikeLoss "strike_loss" "Speed lost when thrown back" Share 0.0 .. 1.0 = 0.0 step 0.01 / 0.1,
        "Share of the speed difference lost each time the flanks throw the gear back out.";
    TimeAllowed "time_allowed_ms" "Time allowed" Time 1.0 .. 60000.0 = 1000.0 step 10.0 / 100.0,
        "A shift that has neither gone in nor stopped by this time counts as “not in yet”.";
    Gear "gear" "Gear engaged by these dogs" Count 1.0 .. 8.0 = 2.0 step 1.0 / 2.0,
        "The gear of the gearbox that the two rings engage.";
    ShiftTorque "shift_torque_nm" "Torque during the shift" Torque -1000.0 .. 2000.0 = 0.0 step 1.0 / 10.0,
        "Torque at the dogs that still drives the input side during the shift: 0 with the clutch disengaged, minus \
         for engine braking.";
    ThrottleTorque "throttle_torque_nm" "Torque on opening the throttle" Torque 0.0 .. 5000.0 = 100.0 step 1.0 / 10.0,
        "Steady torque at the dogs that takes up the lash as the throttle opens.";
    Stiffness "stiffness_nm_per_rad" "Driveline torsional stiffness"
        Stiffness 10.0 .. 1000000.0 = 2000.0 step 50.0 / 500.0,
        "Combined stiffness of shafts, chain or belt and cush drive, reflected to the dogs. A softer driveline \
         softens shocks. The starting value is invented: measure or estimate yours.";
    LoadFactor "load_factor" "Service (application) factor" Ratio 0.1 .. 10.0 = 1.0 step 0.05 / 0.5,
        "Multiplies the torque to allow for loads that the calculation leaves out, such as shocks from the chain or \
         an engine stronger than its rating.";
    DogStiffness "dog_stiffness_n_per_um" "Stiffness of one pair of dogs"
        ContactStiffness 1.0 .. 5000.0 = 100.0 step 5.0 / 50.0,
        "Force that deflects one pair of dogs by 0.001 mm. It counts only if the measured spacing decides how the \
         load is shared. The starting value is invented.";
    AllowedPressure "allowed_pressure_mpa" "Allowable flank pressure" Stress 0.1 .. 5000.0 = 77.6 step 1.0 / 10.0,
        "Starting value: fixed, uncrowned splines, 58 to 63 HRC, application factor 2, 100 000 cycles in one \
         direction (Dudley 1957, as in Machinery's Handbook). Replace it if you have a better one.";
    AllowedShear "allowed_shear_mpa" "Allowable shear at the root" Stress 0.1 .. 5000.0 = 86.2 step 1.0 / 10.0,
        "Starting value: case-hardened splines, application factor 2, 100 000 cycles in one direction (Dudley 1957, \
         as in Machinery's Handbook). Replace it if you have a better one.";
    AllowedStress "allowed_stress_mpa" "Allowable stress at the root" Stress 1.0 .. 5000.0 = 590.0 step 10.0 / 100.0,
        "Starting value: core yield strength of an 8620-class steel, section up to 30 mm (former DIN 17210, from \
         memory). Fatigue is not covered. Replace it if you have a better one.";
    FlankFriction "flank_friction" "Flank friction" Ratio 0.0 .. 0.8 = 0.1 step 0.01 / 0.05,
        "Friction coefficient between flanks. It raises the force to shift out under load; the retaining force is \
         calculated without it.";
    SplineFriction "spline_friction" "Spline friction" Ratio 0.0 .. 0.8 = 0.1 step 0.01 / 0.05,
        "Friction coefficient of the splines on which the sliding gear slides.";
    SplineDiameter "spline_diameter_mm" "Spline diameter" Length 4.0 .. 300.0 = 28.0 step 0.1 / 1.0,
        "Mean diameter of the splines on which the sliding gear slides.";
    RatioToWheel "ratio_to_wheel" "Ratio to the wheel" Ratio 0.2 .. 20.0 = 2.8 step 0.05 / 0.5,
        "Turns of the shaft that carries the dogs per turn of the rear wheel.";
    WheelDiameter "wheel_diameter_mm" "Wheel diameter" Length 200.0 .. 1000.0 = 640.0 step 1.0 / 10.0,
        "Rear wheel, measured over the [tyre|tire].";
    PrimaryDriving "primary_driving_teeth" "Primary drive, teeth on the crank" Count 5.0 .. 200.0 = 27.0 step 1.0 / 5.0,
        "Teeth of the gear or sprocket on the crankshaft.";
    PrimaryDriven "primary_driven_teeth" "Primary drive, teeth on the clutch" Count 5.0 .. 300.0 = 70.0 step 1.0 / 5.0,
        "Teeth of the gear or sprocket on the clutch basket.";
    FinalDriving "final_driving_teeth" "Final drive, teeth at the gearbox" Count 5.0 .. 100.0 = 15.0 step 1.0 / 5.0,
        "Teeth of the sprocket, pulley or bevel gear on the output shaft.";
    FinalDriven "final_driven_teeth" "Final drive, teeth at the wheel" Count 5.0 .. 200.0 = 42.0 step 1.0 / 5.0,
        "Teeth of the sprocket, pulley or bevel gear at the rear wheel.";
    EngineTorque "engine_torque_nm" "Engine torque" Torque 0.0 .. 500.0 = 38.0 step 1.0 / 10.0,
        "Torque at the crankshaft as the throttle opens.";
    EngineInertia "engine_inertia_kg_m2" "Inertia of the crankshaft"
        ShaftInertia 0.000001 .. 10.0 = 0.008 step 0.0001 / 0.001,
        "Crankshaft with flywheel and rotor, plus the clutch basket reflected to the crankshaft. It counts only while \
         the clutch is engaged. The starting value is from memory.";
    InputInertia "input_inertia_kg_m2" "Inertia of the input shaft"
        ShaftInertia 0.000001 .. 10.0 = 0.0009 step 0.0001 / 0.001,
        "Clutch hub with the driven plates, input shaft and its gears. The starting value is from memory.";
    OutputInertia "output_inertia_kg_m2" "Inertia of the output shaft"
        ShaftInertia 0.000001 .. 10.0 = 0.0012 step 0.0001 / 0.001,
        "Output shaft, its gears and the sprocket. The starting value is from memory.";
    VehicleMass "vehicle_mass_kg" "Mass of bike and rider" Mass 5.0 .. 5000.0 = 230.0 step 1.0 / 10.0,
        "Mass ready to ride. It is reflected to the output shaft as m·r², through the final drive.";
    GearDriving "driving_teeth" "Driving teeth" Count 5.0 .. 100.0 = 22.0 step 1.0 / 5.0,
        "Teeth of the gear of this pair on the input shaft.";
    GearDriven "driven_teeth" "Driven teeth" Count 5.0 .. 100.0 = 28.0 step 1.0 / 5.0,
        "Teeth of the gear of this pair on the output shaft.";
    UpAt "shift_up_rpm" "Upshift speed" Speed 300.0 .. 30000.0 = 8500.0 step 100.0 / 1000.0,
        "Engine speed at which you shift up from this gear.";
    DownAt "shift_down_rpm" "Downshift speed" Speed 300.0 .. 30000.0 = 4500.0 step 100.0 / 1000.0,
        "Engine speed at which you shift down from this gear.";
    DiscMass "disc_mass_kg" "Mass" Mass 0.001 .. 200.0 = 1.0 step 0.01 / 0.1,
        "Mass of the part, treated as a plain disc.";
    DiscDiameter "disc_diameter_mm" "Diameter" Length 1.0 .. 1000.0 = 120.0 step 1.0 / 10.0,
        "Diameter of the part, treated as a plain disc.";
    ShaftDiameter "shaft_diameter_mm" "Shaft diameter" Length 1.0 .. 200.0 = 20.0 step 0.5 / 5.0,
        "Diameter of a plain round steel shaft that twists as much as the driveline.";
    ShaftLength "shaft_length_mm" "Shaft length" Length 1.0 .. 5000.0 = 300.0 step 1.0 / 10.0,
        "Length of the plain round steel shaft that twists as much as the driveline.";
    FlankStock "flank_stock_mm" "Stock off the flank" Length 0.01 .. 30.0 = 0.3 step 0.01 / 0.1,
        "Metal removed from the flank, measured at the mean diameter. A radial flank stays radial and a parallel one \
         parallel.";
    RecutTo "recut_to_deg" "New flank angle" Angle -5.0 .. 15.0 = 4.0 step 0.1 / 1.0,
        "Angle the flank is cut to, from the shaft axis; plus is undercut. The cut is just deep enough to \
         clean up the old flank. Undercuts of 3 to 7 degrees are common practice (no source).";
    LapStock "lap_stock_mm" "Stock off the tallest tips" Length 0.001 .. 2.0 = 0.02 step 0.005 / 0.05,
        "Metal that lapping on a plate removes from the tallest tips. Shorter dogs lose only what is above that \
         plane.";
    BreakTo "break_to_mm" "New edge break" Length 0.05 .. 3.0 = 0.3 step 0.05 / 0.5,
        "Chamfer or radius on the tip edges of the flanks. Edges with a larger break stay as they are.";
    LappedFriction "lapped_friction" "Tip friction when lapped" Ratio 0.0 .. 0.8 = 0.08 step 0.01 / 0.05,
        "Friction coefficient of lapped tips, oiled: 0.08 as lapped, 0.05 polished (common practice, no source). It \
         applies if both rings are lapped after shortening; otherwise tip friction applies.";
    OverrunShare "overrun_share" "Engine braking" Share 0.0 .. 1.5 = 0.3 step 0.01 / 0.1,
        "Torque [on the overrun|when coasting] as a share of full-throttle torque: a fifth to two fifths for a \
         four-stroke at high engine speed with the throttle closed (from memory).";
    CutShare "cut_share" "Share that must be in" Share 0.5 .. 0.99 = 0.95 step 0.01 / 0.05,
        "Share of shifts that the ignition cut must be long enough for, at the first pass of the dogs. The wait for the \
         next firing counts with the same share.";
    Cylinders "cylinders" "Cylinders" Count 1.0 .. 12.0 = 1.0 step 1.0 / 2.0,
        "Cylinders of a four-stroke that fires evenly. A cut acts from the next firing on: 120000/(rpm × cylinders) ms \
         later at most.";
    CutDelay "cut_delay_ms" "Delay of the ignition unit" Time 0.0 .. 200.0 = 2.0 step 0.5 / 5.0,
        "Time from the signal of the sensor to the cut. The starting value is invented.";
    NeutralTravel "neutral_travel_mm" "Travel between the gears" Length 0.0 .. 20.0 = 1.0 step 0.1 / 1.0,
        "Travel of the sliding gear from where the old dogs are out to where the tips of the new ones are level.";
    DrivelineDamping "driveline_damping" "Damping of the driveline" Ratio 0.0 .. 0.5 = 0.05 step 0.01 / 0.05,
        "Damping ratio of the swing between engine and vehicle. The starting value is from memory.";
    TorqueFall "torque_fall_ms" "Time of the torque change" Time 0.0 .. 1000.0 = 0.0 step 1.0 / 10.0,
        "Time in which the torque falls at a cut or rises at a blip, and comes back: about none with an ignition cut (from \
         memory).";
    BlipShare "blip_share" "Torque of the blip" Share 0.05 .. 1.0 = 0.4 step 0.05 / 0.1,
        "Torque that speeds the engine up before a downshift, as a share of full-throttle torque. The starting value is \
         invented.";
    EdgeWear "edge_wear_mm" "Rounding of worn edges" Length 0.05 .. 3.0 = 0.5 step 0.05 / 0.5,
        "Rounding of the tip edges of both rings that is looked at: what it leaves of the flanks, and how many shifts are in \
         with it. The starting value is invented.";
    CarrierInertia "carrier_inertia_kg_m2" "Inertia of rear sprocket and carrier"
        ShaftInertia 0.0 .. 10.0 = 0.0 step 0.001 / 0.01,
        "Everything between chain and cush drive, at the wheel; 0 while it is not known.";
    FreeGearInertia "free_gear_inertia_kg_m2" "Inertia of the free gear"
        ShaftInertia 0.0 .. 10.0 = 0.0 step 0.0001 / 0.001,
        "The gear between mesh and dogs; 0 to leave it and the lash of its mesh out.";
    WheelInertia "wheel_inertia_kg_m2" "Inertia of the rear wheel" ShaftInertia 0.001 .. 20.0 = 0.6 step 0.01 / 0.1,
        "With brake disc and [tyre|tire]. The starting value is from memory.";
    MeshLash "mesh_lash_deg" "Lash of the mesh" Angle 0.0 .. 5.0 = 0.15 step 0.01 / 0.1,
        "Rotation of the free gear within its teeth. The starting value is from memory.";
    ShaftStiffness "shaft_stiffness_nm_per_rad" "Stiffness of each gearbox shaft"
        Stiffness 100.0 .. 1000000.0 = 15000.0 step 500.0 / 5000.0,
        "Torsional stiffness of input and output shaft, each at its own speed. The starting value is from memory.";
    ChainStiffness "chain_stiffness_nm_per_rad" "Stiffness of the chain"
        Stiffness 0.0 .. 1000000.0 = 4000.0 step 100.0 / 1000.0,
        "At the output shaft; 0 for a rigid final drive. The starting value is from memory.";
    ChainSlack "chain_slack_mm" "Chain pushed taut, from the middle" Length 0.0 .. 100.0 = 0.0 step 1.0 / 5.0,
        "At mid-run, pushed by hand as far as it goes: half the way from taut to taut. Give this or the sag.";
    ChainSag "chain_sag_mm" "Sag of the hanging chain" Length 0.0 .. 100.0 = 20.0 step 1.0 / 5.0,
        "At mid-run, below the straight line. The starting value is from memory.";
    ChainRun "chain_run_mm" "Free run of the chain" Length 50.0 .. 2000.0 = 600.0 step 5.0 / 50.0,
        "From sprocket to sprocket. The starting value is from memory.";
    CushStiffness "cush_stiffness_nm_per_rad" "Stiffness of the cush drive"
        Stiffness 0.0 .. 1000000.0 = 3000.0 step 50.0 / 500.0,
        "At the wheel; 0 for none. The starting value is from memory.";
    CushTravel "cush_travel_deg" "Travel of the cush drive" Angle 0.0 .. 45.0 = 5.0 step 0.5 / 1.0,
        "From rest to its stop, one way; 0 without a stop. The starting value is from memory.";
    CushDamping "cush_damping" "Damping of the cush drive" Ratio 0.0 .. 1.0 = 0.1 step 0.01 / 0.05,
        "Damping ratio of the swing on it. The starting value is from memory.";
    TyreFriction "tyre_friction" "Grip of the [tyre|tire]" Ratio 0.05 .. 3.0 = 1.0 step 0.05 / 0.1,
        "Friction coefficient on the road. The starting value is from memory.";
    RearLoad "rear_load_n" "Load on the rear wheel" Force 0.0 .. 20000.0 = 1300.0 step 50.0 / 500.0,
        "Vertical, while shifting; 0 if the [tyre|tire] does not slip. The starting value is from memory.";
    ClutchSlip "clutch_slip_nm" "Torque at which the clutch slips" Torque 0.0 .. 5000.0 = 0.0 step 5.0 / 50.0,
        "At the clutch; 0 if it does not slip.";
    ClutchTime "clutch_ms" "Time of the clutch" Time 0.0 .. 2000.0 = 60.0 step 5.0 / 50.0,
        "Time in which the clutch opens, and in which it takes up again. The starting value is from memory.";
    ClutchDrag "clutch_drag_nm" "Drag of the clutch" Torque 0.0 .. 50.0 = 0.5 step 0.1 / 1.0,
        "Torque that the pulled clutch still carries to the input shaft, several times as much with cold oil. The starting \
         value is from memory.";
    ThrottleTime "throttle_ms" "Time of the closing throttle" Time 0.0 .. 1000.0 = 75.0 step 5.0 / 25.0,
        "Time in which the torque falls when the rider shuts the throttle. The starting value is from memory.";
    LongestFiring "longest_firing_deg" "Longest firing interval" Angle 0.0 .. 720.0 = 0.0 step 10.0 / 90.0,
        "In degrees of the crank, where the engine does not fire evenly; 0 if it does. The other intervals share what is left of \
         720° evenly.";
    FootSpeed "foot_speed_m_per_s" "Speed of the foot" Velocity 0.01 .. 5.0 = 0.3 step 0.05 / 0.1,
        "Speed of the pedal's peg in a quick shift. The starting value is from memory.";
    SensorTravel "sensor_travel_mm" "Pedal travel to the signal" Length 0.0 .. 60.0 = 4.0 step 0.5 / 2.0,
        "Travel of the peg until the sensor signals, with dead travel and preload. The starting value is invented.";
    IdleSpeed "idle_rpm" "Idle speed" Speed 0.0 .. 6000.0 = 1300.0 step 50.0 / 200.0,
        "Engine speed at rest, from which first gear is selected. The starting value is from memory.";
    RollTravel "roll_mm" "Rolled while selecting" Length 0.0 .. 5000.0 = 100.0 step 10.0 / 100.0,
        "How far the machine is rolled, forward or back, to bring the dogs over a gap.";
    CaseDepth "case_depth_mm" "Case depth" Length 0.0 .. 5.0 = 0.8 step 0.05 / 0.1,
        "How deep the dogs are case-hardened, from the surface inwards; 0 if they are through-hardened. Have it \
         measured on a scrap gear: 0.5 to 1.2 mm is common practice (no source).";
    BalanceGrade "balance_grade_mm_per_s" "Balance grade G" Ratio 0.4 .. 40.0 = 6.3 step 0.1 / 1.0,
        "Balance quality grade to ISO 21940-11, in mm/s, that the gear must meet: 6.3 for general machinery, 2.5 for \
         finer work.";
    BalanceSpeed "balance_rpm" "Highest speed of the gear" Speed 100.0 .. 40000.0 = 10000.0 step 100.0 / 1000.0,
        "Highest speed at which the gear turns; the allowable unbalance falls as it rises.";
    GearMass "gear_mass_kg" "Mass of the gear" Mass 0.02 .. 20.0 = 0.5 step 0.01 / 0.1,
        "Mass of the gear that carries the dogs, weighed. The allowable unbalance grows with it.";
    CutWheelDiameter "cut_wheel_diameter_mm" "Diameter of the cutting wheel"
        Length 3.0 .. 500.0 = 125.0 step 1.0 / 10.0,
        "Outer diameter of the cut-off or grinding wheel.";
    CutWheelSpeed "cut_wheel_m_per_s" "Max. speed marked on the wheel"
        Velocity 1.0 .. 150.0 = 80.0 step 1.0 / 5.0,
        "Highest rim speed marked on the wheel.";
    CutWidth "cut_width_mm" "Cutting width of wheel or cutter" Length 0.2 .. 60.0 = 8.0 step 0.1 / 1.0,
        "Width of the slot that the wheel or cutter really cuts: measure a slot, not the wheel.";
    DividingRatio "dividing_ratio" "Dividing head ratio" Count 5.0 .. 360.0 = 40.0 step 1.0 / 10.0,
        "Turns of the crank for one turn of the work: usually 40.";
    TableRatio "table_ratio" "Rotary table ratio" Count 10.0 .. 360.0 = 90.0 step 1.0 / 10.0,
        "Turns of the handwheel for one turn of the table: 40, 60, 72, 80 or 90, as marked on the table.";
    WebInside "web_inside_mm" "Web inside the dogs" Length 0.2 .. 100.0 = 2.0 step 0.1 / 1.0,
        "How far the web of the solid extends inwards past the inner ends of the dogs.";
    WebOutside "web_outside_mm" "Web outside the dogs" Length 0.2 .. 100.0 = 1.0 step 0.1 / 1.0,
        "How far the web of the solid extends outwards past the outer ends of the dogs.";
    WebThickness "web_thickness_mm" "Web thickness" Length 0.2 .. 100.0 = 4.0 step 0.1 / 1.0,
        "Thickness of the web of the solid, under the dogs.";
    WishedWindow "wished_window_ms" "Target window time" Time 0.01 .. 10000.0 = 10.0 step 0.5 / 5.0,
        "Shortest time that the widest window should stay open at the speed difference.";
    WishedLash "wished_lash_deg" "Target lash" Angle 0.1 .. 300.0 = 15.0 step 0.5 / 5.0,
        "Smallest angle through which the rings should be free to turn at full depth.";
    MostLash "most_lash_deg" "Largest acceptable lash" Angle 0.1 .. 340.0 = 20.0 step 0.5 / 5.0,
        "The most lash at the dogs that you accept. Leave blank for no limit.";
    MostClunk "most_clunk_nm" "Largest acceptable clunk" Torque 1.0 .. 20000.0 = 500.0 step 5.0 / 50.0,
        "The largest clunk torque that you accept as the throttle opens and takes up the lash. Leave blank for no \
         limit.";
    ShaftAhead "shaft_ahead_mm" "Shaft ahead of the pedal pivot" Length -600.0 .. 600.0 = 125.0 step 0.5 / 5.0,
        "From the pedal pivot to the selector shaft, parallel to the ground; minus if the shaft is behind.";
    ShaftAbove "shaft_above_mm" "Shaft above the pedal pivot" Length -400.0 .. 400.0 = 20.0 step 0.5 / 5.0,
        "From the pedal pivot up to the selector shaft; minus if the shaft is lower.";
    PedalArm "pedal_arm_mm" "Rod arm of the pedal" Length 5.0 .. 300.0 = 35.0 step 0.5 / 5.0,
        "From the pedal pivot to the joint of the rod.";
    RodLength "rod_mm" "Rod length" Length 5.0 .. 1000.0 = 126.0 step 0.1 / 1.0,
        "From the [centre|center] of one joint to the [centre|center] of the other.";
    ShaftLever "shaft_lever_mm" "Lever on the selector shaft" Length 5.0 .. 300.0 = 32.0 step 0.5 / 5.0,
        "From the selector shaft to the joint of the rod.";
    ShaftLeverAt "shaft_lever_at_deg" "Lever angle from vertical (forward +)"
        Angle -180.0 .. 180.0 = 0.0 step 0.5 / 5.0,
        "How far the lever on the shaft leans forward from straight up, at rest on its [centring|centering] spring; \
         minus leans back, 180 hangs straight down.";
    FootArm "foot_arm_mm" "Foot arm of the pedal" Length 20.0 .. 500.0 = 130.0 step 1.0 / 10.0,
        "From the pivot to the middle of the toe peg.";
    FootBend "foot_bend_deg" "Foot arm angle" Angle -180.0 .. 180.0 = 100.0 step 0.5 / 5.0,
        "Angle from the rod arm of the pedal forward to its foot arm; with the pedal on the shaft, from straight up.";
    FootLift "foot_lift_mm" "Foot travel, lifting" Length 1.0 .. 200.0 = 36.0 step 0.5 / 5.0,
        "How far the peg can be lifted from rest, along its arc, before the boot or the frame stops it.";
    FootPress "foot_press_mm" "Foot travel, pressing" Length 1.0 .. 200.0 = 36.0 step 0.5 / 5.0,
        "How far the peg can be pressed down from rest, along its arc.";
    RodThread "rod_thread_mm" "Rod adjustment per turn" Length 0.1 .. 6.0 = 1.0 step 0.05 / 0.5,
        "How much one turn lengthens the rod: the pitch if one end is turned, twice the pitch if a rod with left- and \
         right-hand threads is turned.";
    SplineTeeth "shaft_spline_teeth" "Number of shaft splines" Count 6.0 .. 120.0 = 36.0 step 1.0 / 5.0,
        "Splines on the end of the selector shaft; the lever or pedal can be moved one spline at a time.";
    DrumPositions "drum_positions" "Positions of the drum" Count 3.0 .. 24.0 = 6.0 step 1.0 / 2.0,
        "Number of detent notches all the way round; the drum has as many pins.";
    PinRadius "pin_radius_mm" "Drum axis to pins" Length 2.0 .. 80.0 = 10.0 step 0.1 / 1.0,
        "From the drum axis to the middle of the pins that the claw pulls.";
    ShaftToDrum "shaft_to_drum_mm" "Drum axis to selector shaft" Length 5.0 .. 300.0 = 46.0 step 0.1 / 1.0,
        "Distance between the axes of drum and selector shaft.";
    PlayLift "claw_play_lift_mm" "Claw free play, lifting" Length 0.0 .. 15.0 = 1.0 step 0.05 / 0.5,
        "How far the claw moves from rest before it meets its pin as the pedal is lifted.";
    PlayPress "claw_play_press_mm" "Claw free play, pressing" Length 0.0 .. 15.0 = 1.0 step 0.05 / 0.5,
        "How far the claw moves from rest before it meets its pin as the pedal is pressed.";
    ClawLift "claw_travel_lift_mm" "Claw travel to stop, lifting" Length 0.1 .. 100.0 = 9.6 step 0.05 / 0.5,
        "Travel of the claw from rest until the shaft meets its stop, along the arc, free play included.";
    ClawPress "claw_travel_press_mm" "Claw travel to stop, pressing" Length 0.1 .. 100.0 = 10.4 step 0.05 / 0.5,
        "Travel of the claw from rest until the shaft meets its stop, along the arc, free play included.";
    StopRadius "stop_radius_mm" "Selector shaft to stop" Length 3.0 .. 200.0 = 30.0 step 0.1 / 1.0,
        "From the selector shaft to the pin or screw that stops it.";
    Eccentric "eccentric_mm" "Eccentricity of the stop" Length 0.0 .. 10.0 = 0.8 step 0.05 / 0.5,
        "Distance of the stop from the axis it turns about; 0 for a fixed stop.";
    EccentricAt "eccentric_at_deg" "Eccentric setting" Angle -180.0 .. 180.0 = 0.0 step 1.0 / 10.0,
        "0 where the eccentric [favours|favors] neither stroke; plus gives the lifting stroke more travel. Turning it \
         changes the travel: set it first, then enter the travel as measured.";
    GapWanted "gap_wanted_mm" "Target gap at the stop" Length 0.05 .. 5.0 = 1.0 step 0.05 / 0.5,
        "Gap between claw and pin with the shaft at its stop and the drum home: about 1 mm, the same both \
         ways (common practice, no source).";
    RollerForce "roller_force_n" "Force on the roller" Force 0.5 .. 500.0 = 30.0 step 0.5 / 5.0,
        "Force of the detent spring at the roller, towards the drum axis.";
    StarRadius "star_radius_mm" "Drum axis to roller contact" Length 3.0 .. 100.0 = 18.0 step 0.1 / 1.0,
        "From the drum axis to where the roller bears on the flank of the detent wheel.";
    StarFlank "star_flank_deg" "Flank angle of the detent wheel" Angle 5.0 .. 80.0 = 35.0 step 0.5 / 5.0,
        "Slope of a notch flank, measured from the tangent to the circle about the drum axis.";
    RollerFriction "roller_friction" "Friction of the roller" Ratio 0.0 .. 0.8 = 0.12 step 0.01 / 0.05,
        "Combined friction coefficient of the roller on the detent wheel and in its arm; higher if the roller no \
         longer turns.";
    StarCrest "star_crest_mm" "Flat at the detent peaks" Length 0.0 .. 15.0 = 1.0 step 0.05 / 0.5,
        "Width at the peak between two notches where the roller can rest; it grows with wear.";
    DrumSlack "drum_slack_deg" "Drum free play in the detent" Angle 0.0 .. 30.0 = 1.0 step 0.1 / 1.0,
        "How far the drum can be rocked with the roller in its notch, from end to end.";
    TrackStart "track_start_deg" "Fork starts to move at" Angle 0.0 .. 360.0 = 12.0 step 0.5 / 5.0,
        "Drum angle, from the starting position, at which the track begins to move the fork.";
    TrackEnd "track_end_deg" "Fork reaches full travel at" Angle 0.0 .. 360.0 = 54.0 step 0.5 / 5.0,
        "Drum angle at which the fork has reached its full travel.";
    ForkThrow "fork_throw_mm" "Travel of the fork" Length 0.1 .. 60.0 = 5.8 step 0.05 / 0.5,
        "How far the track moves the fork.";
    TrackAngle "track_at_deg" "Drum angle" Angle 0.0 .. 360.0 = 0.0 step 0.5 / 5.0,
        "Drum angle of this point of the track, from the starting position.";
    TrackTravel "fork_travel_mm" "Fork position" Length -60.0 .. 60.0 = 0.0 step 0.05 / 0.5,
        "How far the fork has moved from its starting position, towards the pair.";
    ThrowThis "throw_this_mm" "Fork travel to this pair" Length 0.1 .. 60.0 = 5.8 step 0.05 / 0.5,
        "Travel of the fork from neutral to where this pair is engaged.";
    ThrowOther "throw_other_mm" "Fork travel to the other pair" Length 0.1 .. 60.0 = 5.8 step 0.05 / 0.5,
        "Travel of the fork from neutral to where the other pair is engaged.";
    ForkThickness "fork_thickness_mm" "Fork pad thickness" Length 0.5 .. 60.0 = 5.8 step 0.01 / 0.1,
        "Thickness of the fork where it runs in the groove, measured where it is most worn.";
    GrooveWidth "groove_width_mm" "Fork groove width" Length 0.5 .. 60.0 = 6.0 step 0.01 / 0.1,
        "Width of the groove in the sliding gear, measured where it is most worn.";
    ShimStep "shim_step_mm" "Shim increment" Length 0.01 .. 2.0 = 0.05 step 0.01 / 0.1,
        "Difference in thickness between one available shim and the next.";
    LinkSize "size_mm" "Size" Length 0.0 .. 500.0 = 10.0 step 0.01 / 0.1,
        "Nominal or measured size of this part of the stack-up.";
    LinkTolerance "tolerance_mm" "Tolerance ±" Length 0.0 .. 5.0 = 0.02 step 0.005 / 0.05,
        "How far the size can be off either way; for a measured size, its uncertainty.";
    SeenRodAngle "measured_rod_angle_deg" "Angle between rod and lever" Angle 0.0 .. 180.0 = 90.0 step 0.5 / 5.0,
        "Hold the pedal at each end of its travel and lay a protractor along the rod and the shaft lever; enter the \
         angle farther from 90°.";
    SeenSpareLift "measured_spare_lift_mm" "Foot travel to spare, lifting"
        Length -100.0 .. 100.0 = 0.0 step 0.5 / 5.0,
        "How much farther the foot could lift when the shaft reaches its stop; minus if the shaft falls short of the \
         stop.";
    SeenSparePress "measured_spare_press_mm" "Foot travel to spare, pressing"
        Length -100.0 .. 100.0 = 0.0 step 0.5 / 5.0,
        "How much farther the foot could press when the shaft reaches its stop; minus if the shaft falls short of the \
         stop.";
    SeenGapLift "measured_gap_lift_mm" "Gap at the stop, lifting" Length -20.0 .. 20.0 = 1.0 step 0.05 / 0.5,
        "Hold the shaft at its stop, let the drum drop home, and measure the gap between claw and pin with feeler \
         gauges; minus if the claw pushes the pin past home.";
    SeenGapPress "measured_gap_press_mm" "Gap at the stop, pressing" Length -20.0 .. 20.0 = 1.0 step 0.05 / 0.5,
        "As for lifting, but with the pedal pressed.";
    SeenDrumDrag "measured_drum_drag_nmm" "Torque to turn the drum"
        FineTorque 0.0 .. 20000.0 = 100.0 step 1.0 / 10.0,
        "With the roller held off, the torque that just turns the drum and its forks: the pull on a pin, read from a \
         spring [balance|scale], times the pin radius.";
    SeenDrumSlack "measured_drum_slack_deg" "Drum free play, measured" Angle 0.0 .. 30.0 = 1.0 step 0.1 / 1.0,
        "How far the drum can be rocked with the roller in its notch, from end to end.";
    SeenClearanceThis "measured_clearance_this_mm" "Clearance in neutral, this pair"
        Length -20.0 .. 40.0 = 1.0 step 0.05 / 0.5,
        "In neutral, from tip to tip, with the sliding gear pushed towards this pair as far as the fork lets it.";
    SeenClearanceOther "measured_clearance_other_mm" "Clearance in neutral, other pair"
        Length -20.0 .. 40.0 = 1.0 step 0.05 / 0.5,
        "In neutral, from tip to tip, with the sliding gear pushed towards the other pair as far as the fork lets it.";
    SeenOverlap "measured_overlap_mm" "Overlap in gear, measured" Length -20.0 .. 50.0 = 4.0 step 0.05 / 0.5,
        "With the gear in and the sliding gear pulled back against its fork: how far the tips have passed each other.";
    SeenForkPlay "measured_fork_play_mm" "Fork free play in its groove" Length 0.0 .. 10.0 = 0.2 step 0.01 / 0.1,
        "Measure with a feeler gauge, or subtract the fork thickness from the groove width, each measured where it \
         is most worn.";
    SeenTipFriction "measured_tip_friction" "Tip friction, estimated" Ratio 0.0 .. 0.8 = 0.1 step 0.01 / 0.05,
        "Judged by the look and feel of the tips; the choice beside it sets the number.";
    SeenEdgeA "measured_edge_a_mm" "Edge break of ring A" Length 0.0 .. 5.0 = 0.0 step 0.05 / 0.5,
        "Size of the chamfer or rounding on the worst edge between tip and flank, seen square to the flank.";
    SeenEdgeB "measured_edge_b_mm" "Edge break of ring B" Length 0.0 .. 5.0 = 0.0 step 0.05 / 0.5,
        "The same on ring B: size of the chamfer or rounding on the worst edge.";
    SeenFlankDrive "measured_flank_drive_deg" "Flank angle, drive side" Angle -15.0 .. 20.0 = 0.0 step 0.1 / 1.0,
        "Angle of the flanks that carry power, where they touch: plus if undercut, minus if worn or tapered. Enter \
         the smaller of the two rings.";
    SeenFlankCoast "measured_flank_coast_deg" "Flank angle, coast side" Angle -15.0 .. 20.0 = 0.0 step 0.1 / 1.0,
        "Angle of the flanks that carry load [on the overrun|when coasting], where they touch. Enter the smaller of \
         the two rings.";
    SeenLash "measured_lash_deg" "Lash at the dogs, measured" Angle 0.0 .. 340.0 = 10.0 step 0.5 / 5.0,
        "With the gear in, how far one gear turns against the other: use a degree wheel, or a dial [gauge|indicator] \
         at a known radius.";
    SeenClutchSpeed "measured_clutch_rpm" "Speed at the dogs, lever pulled"
        Speed 0.0 .. 5000.0 = 0.0 step 5.0 / 50.0,
        "On a stand, wheel clear, front chocked, hands off chain and spokes: with this gear in, engine idling, lever pulled, \
         take the speed of the wheel times the ratio from dogs to wheel.";
    // ---- the whole gearbox ----
    WheelTeeth "teeth" "Teeth of the gear wheel" Count 5.0 .. 100.0 = 22.0 step 1.0 / 5.0,
        "Teeth of one wheel of a pair; a sliding gear without teeth of its own needs none.";
    NeutralClearance "clearance_mm" "Clearance in neutral, tip to tip" Length -20.0 .. 40.0 = 0.6 step 0.05 / 0.5,
        "From the tips on the sliding gear to those of the free wheel, in neutral. A stack-up of the gear replaces it.";
    EndFloat "end_float_mm" "End float of the shaft" Length 0.0 .. 5.0 = 0.05 step 0.01 / 0.1,
        "How far the shaft with its wheels moves along its axis, from end to end.";
    ShaftShim "shaft_shim_mm" "Shims that move the shaft" Length -10.0 .. 10.0 = 0.0 step 0.05 / 0.5,
        "How far shims have moved the shaft with its wheels since the clearances were measured; plus is towards the \
         end of its list.";
    ForkOffset "fork_offset_mm" "Fork bent by" Length -5.0 .. 5.0 = 0.0 step 0.05 / 0.5,
        "How far the pads are from where a straight fork has them; plus is towards the higher gear of the sliding gear.";
    PinDiameter "pin_diameter_mm" "Diameter of the fork pin" Length 1.0 .. 30.0 = 7.0 step 0.01 / 0.1,
        "Diameter of the pin that runs in the track of the drum, where it is most worn.";
    TrackWidth "track_width_mm" "Width of the track" Length 1.0 .. 40.0 = 7.05 step 0.01 / 0.1,
        "Width of the track in the drum, where it is most worn.";
    DrumFloat "drum_float_mm" "End float of the drum" Length 0.0 .. 5.0 = 0.05 step 0.01 / 0.1,
        "How far the drum moves along its axis, from end to end.";
    PositionAngle "position_deg" "Drum angle of the notch" Angle 0.0 .. 360.0 = 0.0 step 0.5 / 5.0,
        "Drum angle at which the detent holds the drum in this position.";
    SeenRoomFar "measured_room_far_mm" "Fork clearance in gear, far side" Length -10.0 .. 10.0 = 0.1 step 0.01 / 0.1,
        "With the gear in and its dogs drawn home: feeler gauge between pad and groove on the side away from the gear. \
         Minus is what a fork that carries the thrust is pressed aside.";
    SeenRoomNear "measured_room_near_mm" "Fork clearance in gear, near side" Length -10.0 .. 10.0 = 0.1 step 0.01 / 0.1,
        "With the gear in and its dogs drawn home: feeler gauge between pad and groove on the side that faces the gear.";
    SeenMeetsUp "measured_meets_up_deg" "Drum angle where tips meet, going up" Angle 0.0 .. 360.0 = 0.0 step 0.5 / 5.0,
        "Degree wheel on the drum: turn it up into the gear, tip over tip, and read where the tips begin to pass each other.";
    SeenMeetsDown "measured_meets_down_deg" "Drum angle where tips meet, going down" Angle 0.0 .. 360.0 = 0.0 step 0.5 / 5.0,
        "The same, with the drum turned down into the gear.";
    SeenRest "measured_rest_deg" "Drum angle at rest, gear in" Angle 0.0 .. 360.0 = 0.0 step 0.5 / 5.0,
        "Degree wheel on the drum, with the roller in its notch and the drum in the middle of its free play.";
    SeenPinPlay "measured_pin_play_mm" "Free play of the fork pin in its track" Length 0.0 .. 10.0 = 0.05 step 0.01 / 0.1,
        "Hold the drum and move the fork to and fro without its sliding gear, or subtract the pin diameter from the track \
         width, each where it is most worn.";
    SeenForkBend "measured_fork_bend_mm" "Fork bent by, on the surface plate" Length -10.0 .. 10.0 = 0.0 step 0.05 / 0.5,
        "How far the pads are from those of a straight fork, on a surface plate; plus is towards the higher gear of the \
         sliding gear.";
    FaceWidth "face_width_mm" "Face width of the teeth" Length 0.0 .. 100.0 = 0.0 step 0.1 / 1.0,
        "Width of the teeth along the shaft; 0 where it does not matter. A sliding gear that drives needs it, and so does the \
         wheel across it.";
    MeshOffset "mesh_offset_mm" "Teeth off those across, in neutral" Length -50.0 .. 50.0 = 0.0 step 0.1 / 1.0,
        "How far the middle of the teeth of a sliding gear is from the middle of those across, in neutral; plus is towards \
         the end of the list of the shaft.";
    LeastMesh "least_mesh_mm" "Tooth overlap needed" Length 0.0 .. 100.0 = 5.0 step 0.1 / 1.0,
        "How much of the teeth of a sliding gear has to stay in mesh at both ends of its travel.";
    HubSpline "hub_spline_mm" "Length of its splines" Length 0.0 .. 200.0 = 0.0 step 0.1 / 1.0,
        "Length of the splines in the bore of a sliding gear; 0 where it does not matter.";
    SplineBefore "spline_before_mm" "Splines of the shaft before it" Length 0.0 .. 200.0 = 0.0 step 0.1 / 1.0,
        "How far the splines of the shaft reach beyond those of the sliding gear in neutral, towards the beginning of the \
         list.";
    SplineBehind "spline_behind_mm" "Splines of the shaft behind it" Length 0.0 .. 200.0 = 0.0 step 0.1 / 1.0,
        "How far the splines of the shaft reach beyond those of the sliding gear in neutral, towards the end of the \
         list.";
    LeastSpline "least_spline_mm" "Spline length needed" Length 0.0 .. 200.0 = 5.0 step 0.1 / 1.0,
        "How much of the splines of a sliding gear has to be on those of the shaft in gear.";
}

impl Field {
    /// The words beside the input, as a text of the catalogue.
    pub const fn name(&self) -> Label {
        Label { key: ["field", self.key, "label"], english: self.label }
    }

    /// What the input means, as a text of the catalogue.
    pub const fn explanation(&self) -> Label {
        Label { key: ["field", self.key, "explain"], english: self.explain }
    }
}

impl FieldId {
    /// The table row.
    pub fn spec(self) -> &'static Field {
        &FIELDS[self as usize]
    }
}

/// The place of a number in a design.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Slot {
    /// A number of a whole ring.
    Ring(Side, FieldId),
    /// A number of one dog of a ring, counted from 0.
    Dog(Side, usize, FieldId),
    /// A number of the pair, the shift or the wheel.
    Setting(FieldId),
    /// A number of the whole gearbox.
    Gearbox(FieldId),
    /// A number of one gear, counted from 0.
    Gear(usize, FieldId),
    /// The number of an operation on a ring, counted from 0.
    Work(Side, usize, FieldId),
    /// A number of linkage, claw, detent, track or depth.
    Part(FieldId),
    /// A number of one point of the drum track, counted from 0.
    TrackPoint(usize, FieldId),
    /// A number of one dimension of a chain, counted from 0.
    Link(Facing, usize, FieldId),
    /// A measurement for a check.
    Seen(FieldId),
    /// A limit that the user sets.
    Limit(FieldId),
    /// A number of a part of the gearbox around the pair.
    Box(BoxPart, FieldId),
}

/// A part of a whole gearbox that has numbers of its own, counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BoxPart {
    /// A shaft.
    Shaft(usize),
    /// A wheel, by its shaft and its place on it.
    Wheel(u8, u8),
    /// A fork.
    Fork(usize),
    /// The drum.
    Drum,
    /// A position of the detent.
    Position(usize),
    /// A gear.
    Gear(usize),
    /// What was read on a gear; a reading can be absent.
    SeenGear(usize),
    /// What was read on a fork; a reading can be absent.
    SeenFork(usize),
    /// A point of the track of a fork: the fork, and the point.
    TrackPoint(u8, u8),
}

impl BoxPart {
    /// A point of the track of a fork. There are never more than a few of either.
    pub fn track_point(fork: usize, at: usize) -> Self {
        let [fork, at] = [fork, at].map(|number| u8::try_from(number).unwrap_or(u8::MAX));
        Self::TrackPoint(fork, at)
    }

    /// Its place in the words of the saved form.
    fn path(self) -> String {
        match self {
            Self::Shaft(at) => format!("box.shafts[{at}]"),
            Self::Wheel(shaft, at) => format!("box.shafts[{shaft}].wheels[{at}]"),
            Self::Fork(at) => format!("box.forks[{at}]"),
            Self::Drum => "box.drum".to_owned(),
            Self::Position(at) => format!("box.drum.positions[{at}]"),
            Self::Gear(at) => format!("box.gears[{at}]"),
            Self::SeenGear(at) => format!("box.gears[{at}].measured"),
            Self::SeenFork(at) => format!("box.forks[{at}].measured"),
            Self::TrackPoint(fork, at) => format!("box.forks[{fork}].track[{at}]"),
        }
    }

    /// A number of it in words.
    fn words(self, label: Label) -> Message {
        match self {
            Self::Shaft(at) => place::of_shaft(at, label),
            Self::Wheel(shaft, at) => place::of_wheel(shaft.into(), at.into(), label),
            Self::Fork(at) | Self::SeenFork(at) => place::of_fork(at, label),
            Self::Drum => place::alone(label),
            Self::Position(at) => place::of_position(at, label),
            Self::Gear(at) | Self::SeenGear(at) => place::of_gear(at, label),
            Self::TrackPoint(fork, at) => place::of_fork_track(fork.into(), at.into(), label),
        }
    }
}

impl Slot {
    /// Whether its number can be absent: a reading, or a limit that somebody sets.
    ///
    /// ```
    /// use crenel::fields::{BoxPart, FieldId, Slot};
    /// assert!(Slot::Box(BoxPart::SeenGear(2), FieldId::SeenOverlap).may_be_absent());
    /// assert!(!Slot::Box(BoxPart::Gear(2), FieldId::NeutralClearance).may_be_absent());
    /// ```
    pub const fn may_be_absent(self) -> bool {
        matches!(
            self,
            Self::Seen(_)
                | Self::Limit(_)
                | Self::Box(BoxPart::SeenGear(_) | BoxPart::SeenFork(_), _)
        )
    }

    /// The field of the number.
    pub const fn field(self) -> FieldId {
        match self {
            Self::Ring(_, id)
            | Self::Dog(_, _, id)
            | Self::Setting(id)
            | Self::Gearbox(id)
            | Self::Gear(_, id)
            | Self::Work(_, _, id)
            | Self::Part(id)
            | Self::TrackPoint(_, id)
            | Self::Link(_, _, id)
            | Self::Seen(id)
            | Self::Limit(id)
            | Self::Box(_, id) => id,
        }
    }

    /// Its place in the words of the saved form.
    ///
    /// ```
    /// use crenel::{fields::{FieldId, Slot}, ring::Side};
    /// assert_eq!(Slot::Dog(Side::A, 2, FieldId::Height).path(), "a.dogs[2].height_mm");
    /// ```
    pub fn path(self) -> String {
        let key = self.field().spec().key;
        match self {
            Self::Ring(side, _) => format!("{}.{key}", side.key()),
            Self::Dog(side, dog, _) => format!("{}.dogs[{dog}].{key}", side.key()),
            Self::Setting(_) | Self::Part(_) => key.to_owned(),
            Self::Gearbox(_) => format!("gearbox.{key}"),
            Self::Gear(gear, _) => format!("gearbox.gears[{gear}].{key}"),
            Self::Work(side, at, _) => format!("{}.plan[{at}].{key}", side.key()),
            Self::TrackPoint(at, _) => format!("track.points[{at}].{key}"),
            Self::Link(Facing::This, at, _) => format!("depth.this[{at}].{key}"),
            Self::Link(Facing::Other, at, _) => format!("depth.other[{at}].{key}"),
            Self::Seen(_) => format!("measured.{key}"),
            Self::Limit(_) => format!("limits.{key}"),
            Self::Box(part, _) => format!("{}.{key}", part.path()),
        }
    }

    /// The label of the input. The masses of both gears are in one form, so each label names its ring.
    pub fn label(self) -> Message {
        let label = self.field().spec().name();
        match self {
            Self::Ring(side, FieldId::GearMass) => place::with_ring(label, side),
            _ => place::alone(label),
        }
    }

    /// The place in words, with its ring and its dog if it has them.
    ///
    /// ```
    /// use crenel::{fields::{FieldId, Slot}, ring::Side};
    /// let place = Slot::Dog(Side::A, 2, FieldId::Height).words();
    /// assert_eq!(place.show(Default::default()), "Ring A, dog 3, dog height");
    /// ```
    pub fn words(self) -> Message {
        let label = self.field().spec().name();
        match self {
            Self::Ring(side, _) => place::of_ring(side, label),
            Self::Dog(side, dog, _) => place::of_dog(side, dog, label),
            Self::Setting(_)
            | Self::Gearbox(_)
            | Self::Part(_)
            | Self::Seen(_)
            | Self::Limit(_) => place::alone(label),
            Self::TrackPoint(at, _) => place::of_track_point(at, label),
            Self::Link(facing, at, _) => place::of_chain(facing, at, label),
            Self::Gear(at, _) => place::of_gear(at, label),
            Self::Work(side, at, _) => place::of_operation(side, at, label),
            Self::Box(part, _) => part.words(label),
        }
    }
}

#[cfg(test)]
mod tests {
    use crenel_words::Reader;

    use super::*;

    #[test]
    fn the_table_is_in_order_and_consistent() {
        for (at, field) in FIELDS.iter().enumerate() {
            assert_eq!(field.id as usize, at, "{}", field.key);
            assert!((field.min..=field.max).contains(&field.default), "{}", field.key);
            assert!(field.fine > 0.0 && field.coarse > field.fine, "{}", field.key);
            assert!(field.explain.ends_with('.'), "{}", field.key);
            let twins = FIELDS.iter().filter(|other| other.key == field.key).count();
            assert_eq!(twins, 1, "{}", field.key);
        }
    }

    #[test]
    fn the_masses_of_the_two_gears_name_their_rings() {
        let labels = Side::BOTH
            .map(|side| Slot::Ring(side, FieldId::GearMass).label().show(Reader::default()));
        assert_eq!(labels, ["Mass of the gear with ring A", "Mass of the gear with ring B"]);
        let count = Slot::Ring(Side::A, FieldId::Count).label().show(Reader::default());
        assert_eq!(count, "Dog positions");
    }
}
