# SPDX-License-Identifier: MIT
"""The C calls of vug.h as they stand: a line each. Written by tests/new_call; a test compares
it with the header. Programs want the classes of the package, not this."""
from ctypes import (CFUNCTYPE, POINTER as P, Structure, c_char_p as TEXT, c_double as F64, c_float as F32,
                    c_int32 as I32, c_int64 as I64, c_size_t as SIZE, c_uint8 as U8,
                    c_uint32 as U32, c_uint64 as U64, c_void_p as PTR)

from ._library import declare

STATUS = I32


class vug_context(Structure):
    __slots__ = ()


vug_alloc_fn = CFUNCTYPE(PTR, PTR, SIZE)


vug_realloc_fn = CFUNCTYPE(PTR, PTR, PTR, SIZE)


vug_free_fn = CFUNCTYPE(None, PTR, PTR)


vug_progress_fn = CFUNCTYPE(I32, PTR, F64, TEXT)


class vug_context_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("threads", U32),
        ("alloc", vug_alloc_fn),
        ("realloc", vug_realloc_fn),
        ("free", vug_free_fn),
        ("alloc_user", PTR),
        ("progress", vug_progress_fn),
        ("progress_user", PTR),
        ("memory_limit_bytes", U64),
    ]


vug_sum_fn = CFUNCTYPE(STATUS, PTR, P(F64), P(F64))


class vug_fluid(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("density_kg_m3", F64),
        ("surface_tension_n_m", F64),
        ("contact_angle_deg", F64),
        ("yield_stress_pa", F64),
        ("consistency_pa_sn", F64),
        ("flow_index", F64),
        ("volatile_share", F64),
    ]


class vug_supply(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("within_range", I32),
        ("loads", I64),
        ("loads_low", I64),
        ("loads_high", I64),
        ("last_load_ml", F64),
        ("load_tolerance_ml", F64),
        ("paint_ml", F64),
        ("cost", F64),
    ]


class vug_needle(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("gauge", I32),
        ("outer_mm", F64),
        ("bore_mm", F64),
        ("bore_least_mm", F64),
    ]


class vug_syringe(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("nominal_ml", F64),
        ("plunger_mm", F64),
        ("dead_space_ml", F64),
        ("tolerance_ml", F64),
    ]


class vug_injection(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("needle_bore_mm", F64),
        ("needle_length_mm", F64),
        ("plunger_mm", F64),
        ("friction_n", F64),
        ("back_pressure_pa", F64),
        ("load_ml", F64),
    ]


class vug_injected(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("flow_mm3_s", F64),
        ("pressure_pa", F64),
        ("thumb_force_n", F64),
        ("load_time_s", F64),
        ("jet_speed_mm_s", F64),
        ("reynolds", F64),
    ]


class vug_interval(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("decides", I32),
        ("low", F64),
        ("typical", F64),
        ("high", F64),
        ("share", F64),
    ]


class vug_hole_task(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("drills", I32),
        ("wall_mm", F64),
        ("inject_mm3_s", F64),
        ("thumb_force_n", F64),
        ("plunger_mm", F64),
        ("needle_mm", F64),
        ("needle_gap_mm", F64),
        ("air_mm3_s", F64),
        ("air_pressure_pa", F64),
        ("drain_s", F64),
        ("drain_area_mm2", F64),
        ("drain_from_mm", F64),
        ("drain_to_mm", F64),
        ("exchange", I32),
        ("reserved", I32),
        ("lift_area_mm2", F64),
        ("lift_mm_s", F64),
        ("suction_pa", F64),
        ("hold_head_mm", F64),
        ("vat_kg_m3", F64),
        ("vat_pa_s", F64),
    ]


class vug_hole_choice(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("decides", I32),
        ("least_mm", F64),
        ("drill_mm", F64),
        ("margin", F64),
        ("inject_mm", F64),
        ("needle_mm", F64),
        ("air_mm", F64),
        ("drain_mm", F64),
        ("exchange_mm", F64),
        ("suction_mm", F64),
        ("hold_mm", F64),
        ("holds", I32),
        ("reserved", I32),
    ]


class vug_rinse(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("soak_cycles", I32),
        ("soak_mm3", F64),
        ("soak_reached", F64),
        ("soak_factor", F64),
        ("flush_mm3", F64),
        ("least_mm3", F64),
    ]


class vug_shell(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("shape", I32),
        ("inner_radius_mm", F64),
        ("wall_mm", F64),
        ("modulus_pa", F64),
        ("poisson", F64),
        ("expansion_low_per_k", F64),
        ("expansion_high_per_k", F64),
    ]


class vug_sealed(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("content", I32),
        ("liquid_expansion_per_k", F64),
        ("liquid_compressibility_per_pa", F64),
        ("air_fraction", F64),
        ("sealed_at_c", F64),
    ]


class vug_cure_inside(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("reserved", I32),
        ("lamp_mw_cm2", F64),
        ("wall_mm", F64),
        ("penetration_mm", F64),
        ("opening_mm", F64),
        ("distance_mm", F64),
        ("needed_mj_cm2", F64),
    ]


class vug_relief(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("reserved", I32),
        ("height_mm", F64),
        ("width_mm", F64),
        ("absorption_per_mm", F64),
        ("scattering_per_mm", F64),
        ("core_reflectance", F64),
        ("threshold", F64),
    ]


class vug_coat(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("coats", I32),
        ("wet_mm", F64),
        ("coat_paint_mm3", F64),
        ("fill_paint_mm3", F64),
        ("saved_mm3", F64),
    ]


class vug_mesh(Structure):
    __slots__ = ()


class vug_shells(Structure):
    __slots__ = ()


class vug_mesh_measures(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("closed", I32),
        ("vertices", U64),
        ("triangles", U64),
        ("degenerate", U64),
        ("edges_open", U64),
        ("edges_nonmanifold", U64),
        ("edges_flipped", U64),
        ("shells", U64),
        ("volume_mm3", F64),
        ("area_mm2", F64),
        ("centroid_mm", F64 * 3),
        ("lo_mm", F64 * 3),
        ("hi_mm", F64 * 3),
    ]


class vug_mesh_load_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("format", I32),
        ("warn_of_size", I32),
        ("reserved", I32),
        ("unit_mm", F64),
    ]


class vug_mesh_clean_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("close_gaps", I32),
        ("turn", I32),
        ("tolerance_mm", F64),
    ]


class vug_mesh_clean_report(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("closed_before", I32),
        ("closed_after", I32),
        ("triangles_before", U64),
        ("triangles_after", U64),
        ("edges_open_before", U64),
        ("edges_open_after", U64),
        ("degenerate_removed", U64),
        ("duplicates_removed", U64),
        ("vertices_welded", U64),
        ("joints_split", U64),
        ("triangles_turned", U64),
        ("shells", U64),
        ("shells_turned", U64),
        ("shells_open", U64),
        ("shells_twisted", U64),
        ("shells_crossing", U64),
        ("tolerance_mm", F64),
    ]


class vug_cavities(Structure):
    __slots__ = ()


class vug_thickness(Structure):
    __slots__ = ()


class vug_cavity_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("detect", I32),
        ("cells_across", U32),
        ("min_ratio", F64),
        ("min_volume_mm3", F64),
    ]


class vug_cavity_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("sealed", I32),
        ("exact", I32),
        ("openings", U32),
        ("first_opening", U32),
        ("chambers", U32),
        ("throats", U32),
        ("volume_mm3", F64),
        ("volume_error_mm3", F64),
        ("area_mm2", F64),
        ("centroid_mm", F64 * 3),
        ("lo_mm", F64 * 3),
        ("hi_mm", F64 * 3),
        ("trusted", I32),
    ]


class vug_opening_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cavity", U32),
        ("planned", I32),
        ("center_mm", F64 * 3),
        ("normal", F64 * 3),
        ("diameter_mm", F64),
        ("inscribed_diameter_mm", F64),
        ("area_mm2", F64),
        ("perimeter_mm", F64),
        ("bore_length_mm", F64),
        ("inner_mm", F64 * 3),
        ("exact", I32),
    ]


class vug_chamber_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("center_mm", F64 * 3),
        ("radius_mm", F64),
        ("volume_mm3", F64),
    ]


class vug_throat_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("chamber_a", U32),
        ("chamber_b", U32),
        ("center_mm", F64 * 3),
        ("direction", F64 * 3),
        ("radius_mm", F64),
        ("resistance_mm3", F64),
    ]


class vug_sight_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cells_across", U32),
        ("cell_mm", F64),
        ("window_mm", F64),
        ("hollow_mm", F64),
    ]


class vug_thickness_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("samples", U64),
        ("area_mm2", F64),
        ("min_mm", F64),
        ("min_at_mm", F64 * 3),
        ("p1_mm", F64),
        ("p5_mm", F64),
        ("p50_mm", F64),
        ("max_mm", F64),
        ("coincident_mm2", F64),
        ("coincident_at_mm", F64 * 3),
    ]


class vug_hollow_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cells", I32),
        ("wall_mm", F64),
        ("chamber_mm", F64),
        ("throat_mm", F64),
        ("base_mm", F64),
        ("up", F64 * 3),
        ("most_wall_mm", F64),
        ("slope_deg", F64),
        ("fill_up", F64 * 3),
        ("outlet_mm", F64 * 3),
        ("simplify_mm", F64),
    ]


class vug_hollow_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("chambers", U64),
        ("too_small", U64),
        ("overlaps", U64),
        ("triangles", U64),
        ("step_mm", F64),
        ("volume_mm3", F64),
        ("area_mm2", F64),
        ("least_wall_mm", F64),
        ("slope_deg", F64),
        ("added_mm3", F64),
        ("trapped_before_mm3", F64),
        ("trapped_mm3", F64),
        ("bare_before_mm2", F64),
        ("bare_mm2", F64),
        ("triangles_before", U64),
        ("simplify_error_mm", F64),
        ("flat_mm2", F64),
    ]


class vug_bore_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("reserved", I32),
        ("error_mm", F64),
    ]


class vug_plug_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("reserved", I32),
        ("clearance_mm", F64),
        ("length_mm", F64),
        ("head_mm", F64),
        ("rim_mm", F64),
        ("error_mm", F64),
    ]


class vug_guide_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("reserved", I32),
        ("clearance_mm", F64),
        ("play_mm", F64),
        ("wall_mm", F64),
        ("skirt_mm", F64),
        ("drill_mm", F64),
        ("height_mm", F64),
    ]


class vug_cradle_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cells", U32),
        ("clearance_mm", F64),
        ("depth_mm", F64),
        ("margin_mm", F64),
        ("floor_mm", F64),
        ("free_mm", F64),
    ]


class vug_pockets(Structure):
    __slots__ = ()


class vug_pose_scan(Structure):
    __slots__ = ()


class vug_pose_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("columns_across", U32),
        ("spacing_mm", F64),
        ("pose_count", U32),
        ("criteria", I32),
        ("refine_deg", F64),
    ]


class vug_pocket_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cavity", U32),
        ("sealed", I32),
        ("volume_mm3", F64),
        ("top_mm", F64 * 3),
        ("level_mm", F64),
        ("area_mm2", F64),
        ("volume_error_mm3", F64),
    ]


class vug_pockets_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("trusted", I32),
        ("capacity_mm3", F64),
        ("capacity_error_mm3", F64),
        ("trapped_mm3", F64),
        ("trapped_error_mm3", F64),
    ]


class vug_pose_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("criteria", I32),
        ("up", F64 * 3),
        ("trapped_mm3", F64),
        ("residue_mm3", F64),
        ("lowest_lip_mm", F64),
        ("highest_lip_mm", F64),
        ("cover", P(U32)),
        ("cover_count", SIZE),
        ("stand_mm", F64),
        ("trapped_error_mm3", F64),
        ("residue_error_mm3", F64),
        ("trusted", I32),
    ]


class vug_bore_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("pocket", U32),
        ("point_mm", F64 * 3),
        ("direction", F64 * 3),
        ("depth_mm", F64),
    ]


class vug_course(Structure):
    __slots__ = ()


class vug_moment(Structure):
    __slots__ = ()


class vug_cups(Structure):
    __slots__ = ()


class vug_fill_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("entry", I32),
        ("inlet", I32),
        ("inlet_sealed", I32),
        ("stop_at_spill", I32),
        ("columns_across", U32),
        ("spacing_mm", F64),
        ("volume_mm3", F64),
        ("rate_mm3_s", F64),
        ("viscous", I32),
        ("settle", I32),
        ("rates", P(F64)),
        ("rate_count", SIZE),
        ("pressure_pa", F64),
        ("rigid_air", I32),
        ("release", I32),
        ("air_pressure_pa", F64),
        ("fluid_low", P(vug_fluid)),
        ("fluid_high", P(vug_fluid)),
    ]


class vug_course_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("end", I32),
        ("cavity", U32),
        ("inlet", I32),
        ("first_spill_opening", I32),
        ("held", I32),
        ("pockets", U32),
        ("pools", U32),
        ("capacity_mm3", F64),
        ("liquid_mm3", F64),
        ("trapped_mm3", F64),
        ("empty_mm3", F64),
        ("first_spill_mm3", F64),
        ("first_spill_s", F64),
        ("time_s", F64),
        ("spacing_mm", F64),
        ("film_mm", F64),
        ("film_mm3", F64),
        ("settled_s", F64),
        ("slope_mm", F64),
        ("lag_mm", F64),
        ("peak_pressure_pa", F64),
        ("returned_mm3", F64),
        ("start_mm3", F64),
        ("sill_head_mm", F64),
        ("capacity_error_mm3", F64),
        ("liquid_error_mm3", F64),
        ("trapped_error_mm3", F64),
        ("trusted", I32),
        ("wait_s", F64),
        ("wait_low_s", F64),
        ("wait_high_s", F64),
    ]


class vug_event_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("kind", I32),
        ("opening", I32),
        ("liquid_mm3", F64),
        ("time_s", F64),
        ("level_mm", F64),
        ("volume_mm3", F64),
        ("point_mm", F64 * 3),
        ("wait_s", F64),
        ("wait_low_s", F64),
        ("wait_high_s", F64),
        ("diameter_mm", F64),
    ]


class vug_drain_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cavity", I32),
        ("columns_across", U32),
        ("spacing_mm", F64),
        ("drip_s", F64),
        ("begin", P(vug_moment)),
    ]


class vug_moment_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("pockets", U32),
        ("pools", U32),
        ("time_s", F64),
        ("liquid_mm3", F64),
        ("trapped_mm3", F64),
        ("empty_mm3", F64),
    ]


class vug_pool_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("surfaces", U32),
        ("volume_mm3", F64),
        ("level_mm", F64),
        ("bottom_mm", F64 * 3),
        ("area_mm2", F64),
        ("volume_error_mm3", F64),
    ]


class vug_cup_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cavity", I32),
        ("columns_across", U32),
        ("spacing_mm", F64),
        ("layer_mm", F64),
        ("lift_mm_s", F64),
        ("suction_pa", F64),
        ("wall_mm", F64),
    ]


class vug_cup_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("cavity", U32),
        ("lo_mm", F64),
        ("hi_mm", F64),
        ("area_mm2", F64),
        ("resin_mm3", F64),
        ("relief_mm", F64),
        ("point_mm", F64 * 3),
    ]


class vug_skin(Structure):
    __slots__ = ()


class vug_skin_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("reserved", I32),
        ("spacing_mm", F64),
        ("depth_mm", F64),
        ("after_s", F64),
        ("view", P(F64)),
        ("view_count", SIZE),
    ]


class vug_skin_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("courses", U32),
        ("area_mm2", F64),
        ("backed_mm2", F64),
        ("filmed_mm2", F64),
        ("bare_mm2", F64),
        ("unknown_mm2", F64),
        ("backed_share", F64),
        ("filmed_share", F64),
        ("bare_share", F64),
        ("film_mm", F64),
        ("spot_mm2", F64),
        ("spot_at_mm", F64 * 3),
    ]


class vug_backlit(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("filled", I32),
        ("toward", F64 * 3),
        ("up", F64 * 3),
        ("scale_mm", F64),
        ("resin_per_mm", F64 * 3),
        ("liquid_per_mm", F64 * 3),
        ("background", F64 * 3),
        ("linear", I32),
        ("reserved", I32),
    ]


class vug_plan(Structure):
    __slots__ = ()


class vug_plan_options(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("columns_across", U32),
        ("verify_across", U32),
        ("pose_count", U32),
        ("max_turns", U32),
        ("max_bores", U32),
        ("pose_given", I32),
        ("drills", I32),
        ("first_up", F64 * 3),
        ("limit", F64),
        ("turn_cost", F64),
        ("bore_cost", F64),
        ("air_cost", F64),
        ("bore_mm", F64),
        ("syringe_ml", F64),
        ("chuck_mm", F64),
        ("reach_mm", F64),
        ("tilt_deg", F64),
        ("view", P(F64)),
        ("view_count", SIZE),
        ("keep_clear", P(F64)),
        ("keep_clear_count", SIZE),
        ("preferred", P(F64)),
        ("preferred_count", SIZE),
        ("triangle_flags", P(U8)),
        ("triangle_flag_count", SIZE),
        ("fluid_low", P(vug_fluid)),
        ("fluid_high", P(vug_fluid)),
        ("design", I32),
        ("start_given", I32),
        ("start_up", F64 * 3),
        ("start_liquid_mm3", F64),
        ("start_air", P(F64)),
        ("start_air_count", SIZE),
        ("bare_limit", F64),
        ("max_repeats", U32),
        ("reserved", U32),
    ]


class vug_plan_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("within_limit", I32),
        ("bores", U32),
        ("steps", U32),
        ("cost", F64),
        ("capacity_mm3", F64),
        ("trapped_mm3", F64),
        ("tilted_mm3", F64),
        ("slowly_mm3", F64),
        ("searched_mm3", F64),
        ("inject_mm3", F64),
        ("residue_mm3", F64),
        ("loads", I64),
        ("last_load_ml", F64),
        ("paint_ml", F64),
        ("throat_limit_mm", F64),
        ("throat_mm", F64),
        ("throats", U32),
        ("searched_all", I32),
        ("trusted", I32),
        ("any_pace", I32),
        ("sealed_mm3", F64),
        ("spacing_mm", F64),
        ("chance", F64),
        ("in_model", I32),
        ("rinses", I32),
        ("rinse_mm3", F64),
        ("film_mm3", F64),
        ("resin_s", F64),
        ("resin_mm3", F64),
        ("wall_mm", F64),
        ("cure_low_s", F64),
        ("cure_high_s", F64),
        ("needle_mm", F64),
        ("needle_gauge", I32),
        ("again", U32),
        ("warm_air_mm3", F64),
        ("frost_air_mm3", F64),
        ("dry_s", F64),
        ("plug_mm3", F64),
        ("skin_mm2", F64),
        ("backed_mm2", F64),
        ("filmed_mm2", F64),
        ("bare_mm2", F64),
        ("film_mm", F64),
        ("spot_mm2", F64),
        ("spot_at_mm", F64 * 3),
        ("given", I32),
        ("unseen", I32),
        ("coats", I32),
        ("coat_steps", U32),
        ("swirl_mm3", F64),
        ("coat_mm3", F64),
        ("coat_wetted_mm2", F64),
        ("coat_dry_s", F64),
        ("drain_steps", U32),
        ("repeats", U32),
        ("syringe_ml", F64),
        ("thin_mm", F64),
    ]


class vug_step_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("inlet", I32),
        ("cover", P(U32)),
        ("cover_count", SIZE),
        ("vent", P(U32)),
        ("vent_count", SIZE),
        ("up", F64 * 3),
        ("axis", F64 * 3),
        ("angle_deg", F64),
        ("inject_mm3", F64),
        ("trapped_mm3", F64),
        ("wait_s", F64),
        ("stand_mm", F64),
        ("rate_mm3_s", F64),
        ("feed", P(U32)),
        ("feed_mm3", P(F64)),
        ("feed_count", SIZE),
        ("open", P(U32)),
        ("open_count", SIZE),
        ("show", P(U32)),
        ("show_count", SIZE),
        ("pace_deg", F64),
        ("way", P(F64)),
        ("way_count", SIZE),
        ("empty_mm3", F64),
        ("feed_most_mm3", P(F64)),
        ("time_s", F64),
        ("wait_low_s", F64),
        ("wait_high_s", F64),
        ("stuck_mm3", F64),
        ("lean_deg", F64),
        ("rise_mm", F64),
        ("bubble_mm3", F64),
    ]


class vug_plan_bore_info(Structure):
    _fields_ = [
        ("struct_size", U32),
        ("opening", U32),
        ("point_mm", F64 * 3),
        ("direction", F64 * 3),
        ("depth_mm", F64),
        ("diameter_mm", F64),
        ("least_mm", F64),
        ("slant_deg", F64),
        ("edge_mm", F64),
        ("thinnest_mm", F64),
        ("visibility", F64),
        ("preferred", I32),
        ("chuck_clear", I32),
    ]


# name, result, arguments
FUNCTIONS = {
    # base
    "vug_version_number": (I32, ()),
    "vug_version_string": (TEXT, ()),
    "vug_feature": (I32, (TEXT,)),
    "vug_status_string": (TEXT, (STATUS,)),
    "vug_status_name": (TEXT, (STATUS,)),
    "vug_constant": (TEXT, (SIZE, P(I64))),
    "vug_context_options_init": (STATUS, (P(vug_context_options), SIZE)),
    "vug_context_create": (STATUS, (P(vug_context_options), P(P(vug_context)))),
    "vug_context_free": (None, (P(vug_context),)),
    "vug_context_message": (TEXT, (P(vug_context),)),
    "vug_context_warning": (TEXT, (P(vug_context), SIZE)),
    "vug_context_clear_warnings": (None, (P(vug_context),)),
    "vug_context_threads": (U32, (P(vug_context),)),
    "vug_context_cancel": (None, (P(vug_context),)),
    "vug_context_progress": (F64, (P(vug_context),)),
    "vug_context_set_progress": (STATUS, (P(vug_context), vug_progress_fn, PTR)),
    "vug_free": (None, (P(vug_context), PTR)),
    # flow
    "vug_fluid_init": (STATUS, (P(vug_fluid), SIZE)),
    "vug_tube_flow": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), SIZE, P(F64))),
    "vug_tube_pressure": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), SIZE, P(F64))),
    "vug_tube_start_pressure": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64))),
    "vug_slot_flow": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, F64, P(F64), SIZE, P(F64))),
    "vug_slot_pressure": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, F64, P(F64), SIZE, P(F64))),
    "vug_hole_flow": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), SIZE, P(F64))),
    "vug_hole_pressure": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), SIZE, P(F64))),
    "vug_hole_flow_immersed": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), SIZE, P(F64))),
    "vug_hole_pressure_immersed": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), SIZE, P(F64))),
    "vug_hole_start_pressure": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64))),
    "vug_drain_time": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), P(F64), SIZE, P(F64))),
    "vug_capillary_length": (STATUS, (P(vug_context), P(vug_fluid), P(F64))),
    "vug_capillary_rise": (STATUS, (P(vug_context), P(vug_fluid), F64, P(F64))),
    "vug_capillary_pressure": (STATUS, (P(vug_context), P(vug_fluid), F64, P(F64))),
    "vug_capillary_hold_head": (STATUS, (P(vug_context), P(vug_fluid), F64, P(F64))),
    "vug_capillary_hold_diameter": (STATUS, (P(vug_context), P(vug_fluid), F64, P(F64))),
    "vug_exchange_diameter": (STATUS, (P(vug_context), P(vug_fluid), P(F64), P(F64))),
    "vug_exchange_flow": (STATUS, (P(vug_context), P(vug_fluid), F64, P(F64))),
    "vug_bubble_held": (STATUS, (P(vug_context), P(vug_fluid), P(F64), P(F64))),
    "vug_bubble_tube_speed": (STATUS, (P(vug_context), P(vug_fluid), P(F64), SIZE, P(F64))),
    "vug_bubble_open_speed": (STATUS, (P(vug_context), P(vug_fluid), I32, P(F64), SIZE, P(F64))),
    "vug_drill_next": (STATUS, (P(vug_context), I32, I32, F64, P(F64))),
    "vug_supply_for": (STATUS, (P(vug_context), F64, F64, F64, F64, P(vug_supply))),
    "vug_fluid_preset": (STATUS, (P(vug_context), I32, I32, F64, P(vug_fluid))),
    "vug_fluid_preset_name": (TEXT, (I32,)),
    "vug_fluid_preset_source": (TEXT, (I32,)),
    "vug_yield_from_slope": (STATUS, (P(vug_context), F64, F64, F64, P(F64))),
    "vug_fluid_fit": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, P(F64), P(F64), SIZE, P(vug_fluid), P(F64))),
    "vug_needle_by_gauge": (STATUS, (P(vug_context), I32, P(vug_needle))),
    "vug_needle_through": (STATUS, (P(vug_context), F64, F64, P(vug_needle))),
    "vug_syringe_by_size": (STATUS, (P(vug_context), F64, P(vug_syringe))),
    "vug_syringe_tolerance": (STATUS, (P(vug_context), F64, F64, P(F64))),
    "vug_injection_init": (STATUS, (P(vug_injection), SIZE)),
    "vug_inject": (STATUS, (P(vug_context), P(vug_fluid), P(vug_injection), F64, F64, P(vug_injected))),
    "vug_interval_of": (STATUS, (P(vug_context), vug_sum_fn, PTR, P(F64), P(F64), P(F64), SIZE, P(F64), P(vug_interval))),
    "vug_hole_task_init": (STATUS, (P(vug_hole_task), SIZE)),
    "vug_hole_choose": (STATUS, (P(vug_context), P(vug_fluid), P(vug_hole_task), P(vug_hole_choice))),
    "vug_hole_choose_range": (STATUS, (P(vug_context), P(vug_fluid), P(vug_fluid), P(vug_fluid), P(vug_hole_task), P(vug_interval), P(vug_hole_choice))),
    "vug_bubble_tube_range": (STATUS, (P(vug_context), P(vug_fluid), P(vug_fluid), P(vug_fluid), F64, P(vug_interval))),
    "vug_rinse_solvent": (STATUS, (P(vug_context), F64, F64, F64, I32, P(F64))),
    "vug_rinse_compare": (STATUS, (P(vug_context), F64, F64, F64, F64, P(vug_rinse))),
    "vug_soak_time": (STATUS, (P(vug_context), F64, F64, F64, P(F64))),
    "vug_plug": (STATUS, (P(vug_context), F64, F64, F64, P(F64), P(F64))),
    "vug_head_pressure": (STATUS, (P(vug_context), P(vug_fluid), F64, P(F64))),
    "vug_shell_init": (STATUS, (P(vug_shell), SIZE)),
    "vug_shell_under": (STATUS, (P(vug_context), P(vug_shell), F64, P(F64), P(F64))),
    "vug_sealed_init": (STATUS, (P(vug_sealed), SIZE)),
    "vug_sealed_pressure": (STATUS, (P(vug_context), P(vug_shell), P(vug_sealed), F64, P(F64), P(F64))),
    "vug_sealed_air": (STATUS, (P(vug_context), P(vug_shell), P(vug_sealed), F64, F64, P(F64))),
    "vug_ice_air": (STATUS, (P(vug_context), P(vug_shell), F64, F64, F64, F64, P(F64))),
    "vug_drying_fills": (STATUS, (P(vug_context), F64, F64, P(I32))),
    "vug_drying_time": (STATUS, (P(vug_context), F64, F64, F64, F64, F64, P(F64))),
    # light
    "vug_cure_depth": (STATUS, (P(vug_context), F64, F64, P(F64), SIZE, P(F64))),
    "vug_cure_dose": (STATUS, (P(vug_context), F64, F64, P(F64), SIZE, P(F64))),
    "vug_cure_fit": (STATUS, (P(vug_context), P(F64), P(F64), SIZE, P(F64), P(F64))),
    "vug_cure_inside_init": (STATUS, (P(vug_cure_inside), SIZE)),
    "vug_cure_through": (STATUS, (P(vug_context), P(vug_cure_inside), P(F64), P(F64), P(F64))),
    "vug_wall_transmission": (STATUS, (P(vug_context), F64, F64, P(F64), SIZE, P(F64))),
    "vug_film_reflectance": (STATUS, (P(vug_context), F64, F64, F64, P(F64), SIZE, P(F64))),
    "vug_film_transmittance": (STATUS, (P(vug_context), F64, F64, P(F64), SIZE, P(F64))),
    "vug_film_contrast": (STATUS, (P(vug_context), F64, F64, P(F64), SIZE, P(F64))),
    "vug_film_hiding": (STATUS, (P(vug_context), F64, F64, F64, P(F64))),
    "vug_film_blocking": (STATUS, (P(vug_context), F64, F64, F64, P(F64))),
    "vug_relief_init": (STATUS, (P(vug_relief), SIZE)),
    "vug_relief_contrast": (STATUS, (P(vug_context), P(vug_relief), P(F64), SIZE, P(F64))),
    "vug_relief_skin": (STATUS, (P(vug_context), P(vug_relief), P(F64))),
    "vug_coat_plan": (STATUS, (P(vug_context), F64, F64, F64, F64, F64, P(vug_coat))),
    "vug_film_hang": (STATUS, (P(vug_context), P(vug_fluid), F64, F64, F64, P(F64))),
    # mesh
    "vug_mesh_from_arrays": (STATUS, (P(vug_context), P(F64), SIZE, SIZE, P(U32), SIZE, SIZE, P(P(vug_mesh)))),
    "vug_mesh_load_options_init": (STATUS, (P(vug_mesh_load_options), SIZE)),
    "vug_mesh_load": (STATUS, (P(vug_context), TEXT, P(vug_mesh_load_options), P(P(vug_mesh)))),
    "vug_mesh_load_memory": (STATUS, (P(vug_context), PTR, SIZE, TEXT, P(vug_mesh_load_options), P(P(vug_mesh)))),
    "vug_mesh_save": (STATUS, (P(vug_context), P(vug_mesh), TEXT, I32, P(U8))),
    "vug_mesh_save_pieces": (STATUS, (P(vug_context), P(P(vug_mesh)), P(TEXT), SIZE, TEXT)),
    "vug_mesh_free": (None, (P(vug_mesh),)),
    "vug_mesh_vertex_count": (SIZE, (P(vug_mesh),)),
    "vug_mesh_triangle_count": (SIZE, (P(vug_mesh),)),
    "vug_mesh_vertices": (P(F64), (P(vug_mesh),)),
    "vug_mesh_vertices_float": (STATUS, (P(vug_mesh), P(F64), P(F32))),
    "vug_mesh_triangles": (P(U32), (P(vug_mesh),)),
    "vug_mesh_measure": (STATUS, (P(vug_context), P(vug_mesh), P(vug_mesh_measures))),
    "vug_mesh_shells": (STATUS, (P(vug_context), P(vug_mesh), P(P(vug_shells)))),
    "vug_shells_free": (None, (P(vug_shells),)),
    "vug_shells_count": (SIZE, (P(vug_shells),)),
    "vug_shells_of_triangles": (P(U32), (P(vug_shells),)),
    "vug_shells_get": (STATUS, (P(vug_shells), SIZE, P(vug_mesh_measures))),
    "vug_mesh_clean_options_init": (STATUS, (P(vug_mesh_clean_options), SIZE)),
    "vug_mesh_clean": (STATUS, (P(vug_context), P(vug_mesh), P(vug_mesh_clean_options), P(P(vug_mesh)), P(vug_mesh_clean_report))),
    # cavity
    "vug_cavity_options_init": (STATUS, (P(vug_cavity_options), SIZE)),
    "vug_cavities_find": (STATUS, (P(vug_context), P(vug_mesh), P(F64), SIZE, P(vug_cavity_options), P(P(vug_cavities)))),
    "vug_cavities_with_bores": (STATUS, (P(vug_context), P(vug_cavities), P(F64), SIZE, P(P(vug_cavities)))),
    "vug_cavities_sight": (STATUS, (P(vug_cavities), P(vug_sight_info))),
    "vug_cavities_free": (None, (P(vug_cavities),)),
    "vug_cavities_count": (SIZE, (P(vug_cavities),)),
    "vug_cavities_opening_count": (SIZE, (P(vug_cavities),)),
    "vug_opening_letter": (STATUS, (P(vug_context), SIZE, TEXT, SIZE)),
    "vug_doubt_words": (STATUS, (P(vug_context), P(vug_cavities), I32, TEXT, SIZE)),
    "vug_opening_number": (STATUS, (P(vug_context), TEXT, P(SIZE))),
    "vug_cavities_get": (STATUS, (P(vug_cavities), SIZE, P(vug_cavity_info))),
    "vug_cavities_chamber": (STATUS, (P(vug_cavities), SIZE, SIZE, P(vug_chamber_info))),
    "vug_cavities_throat": (STATUS, (P(vug_cavities), SIZE, SIZE, P(vug_throat_info))),
    "vug_cavities_opening": (STATUS, (P(vug_cavities), SIZE, P(vug_opening_info))),
    "vug_cavities_opening_outline": (STATUS, (P(vug_cavities), SIZE, P(P(F64)), P(SIZE))),
    "vug_cavities_mesh": (P(vug_mesh), (P(vug_cavities), SIZE, P(P(I32)))),
    "vug_thickness_measure": (STATUS, (P(vug_context), P(vug_mesh), P(vug_cavities), F64, P(P(vug_thickness)))),
    "vug_thickness_free": (None, (P(vug_thickness),)),
    "vug_thickness_get": (STATUS, (P(vug_thickness), P(vug_thickness_info))),
    "vug_thickness_vertices": (P(F64), (P(vug_thickness),)),
    "vug_thickness_histogram": (STATUS, (P(vug_thickness), F64, F64, P(F64), SIZE)),
    "vug_thickness_at": (STATUS, (P(vug_thickness), P(F64), P(F64))),
    "vug_thickness_spots": (STATUS, (P(vug_context), P(vug_thickness), F64, P(P(F64)), P(SIZE))),
    # shape
    "vug_hollow_options_init": (STATUS, (P(vug_hollow_options), SIZE)),
    "vug_shape_hollow": (STATUS, (P(vug_context), P(vug_mesh), P(vug_hollow_options), P(P(vug_mesh)), P(vug_hollow_info), P(P(F64)), P(SIZE))),
    "vug_bore_options_init": (STATUS, (P(vug_bore_options), SIZE)),
    "vug_shape_bore": (STATUS, (P(vug_context), P(vug_mesh), P(F64), SIZE, P(vug_bore_options), P(F64), P(P(vug_mesh)))),
    "vug_plug_options_init": (STATUS, (P(vug_plug_options), SIZE)),
    "vug_shape_plug": (STATUS, (P(vug_context), P(F64), P(vug_plug_options), P(P(vug_mesh)))),
    "vug_guide_options_init": (STATUS, (P(vug_guide_options), SIZE)),
    "vug_shape_guide": (STATUS, (P(vug_context), P(vug_mesh), P(F64), P(vug_guide_options), P(P(vug_mesh)))),
    "vug_cradle_options_init": (STATUS, (P(vug_cradle_options), SIZE)),
    "vug_shape_cradle": (STATUS, (P(vug_context), P(vug_mesh), P(F64), P(F64), SIZE, P(vug_cradle_options), P(F64), P(P(vug_mesh)))),
    # pose
    "vug_pose_options_init": (STATUS, (P(vug_pose_options), SIZE)),
    "vug_pockets_find": (STATUS, (P(vug_context), P(vug_cavities), P(F64), P(I32), SIZE, P(vug_pose_options), P(P(vug_pockets)))),
    "vug_pockets_find_poses": (STATUS, (P(vug_context), P(vug_cavities), P(F64), SIZE, P(I32), SIZE, P(vug_pose_options), P(P(vug_pockets)))),
    "vug_pockets_free": (None, (P(vug_pockets),)),
    "vug_pockets_count": (SIZE, (P(vug_pockets),)),
    "vug_pockets_capacity_mm3": (F64, (P(vug_pockets),)),
    "vug_pockets_trapped_mm3": (F64, (P(vug_pockets),)),
    "vug_pockets_totals": (STATUS, (P(vug_pockets), P(vug_pockets_info))),
    "vug_pockets_get": (STATUS, (P(vug_pockets), SIZE, P(vug_pocket_info))),
    "vug_pockets_section": (STATUS, (P(vug_context), P(vug_pockets), P(F64), P(F64), P(P(F64)), P(SIZE))),
    "vug_pockets_mesh": (STATUS, (P(vug_context), P(vug_pockets), SIZE, P(P(vug_mesh)))),
    "vug_pockets_levels": (STATUS, (P(vug_context), P(vug_pockets), P(F64), SIZE, P(F64))),
    "vug_pose_scan_run": (STATUS, (P(vug_context), P(vug_cavities), P(I32), SIZE, P(vug_pose_options), P(P(vug_pose_scan)))),
    "vug_pose_scan_free": (None, (P(vug_pose_scan),)),
    "vug_pose_scan_count": (SIZE, (P(vug_pose_scan),)),
    "vug_pose_scan_ups": (P(F64), (P(vug_pose_scan),)),
    "vug_pose_scan_trapped_mm3": (P(F64), (P(vug_pose_scan),)),
    "vug_pose_scan_best": (SIZE, (P(vug_pose_scan),)),
    "vug_pose_scan_get": (STATUS, (P(vug_pose_scan), SIZE, P(vug_pose_info))),
    "vug_sphere_points": (STATUS, (SIZE, P(F64))),
    "vug_pockets_bore": (STATUS, (P(vug_context), P(vug_cavities), P(vug_pockets), SIZE, P(vug_bore_info))),
    # fill
    "vug_fill_options_init": (STATUS, (P(vug_fill_options), SIZE)),
    "vug_fill_run": (STATUS, (P(vug_context), P(vug_cavities), P(vug_fluid), P(F64), P(I32), SIZE, P(vug_fill_options), P(P(vug_course)))),
    "vug_fill_rate_limit": (STATUS, (P(vug_context), P(vug_cavities), P(vug_fluid), P(F64), P(I32), SIZE, P(vug_fill_options), P(F64))),
    "vug_drain_options_init": (STATUS, (P(vug_drain_options), SIZE)),
    "vug_drain_run": (STATUS, (P(vug_context), P(vug_cavities), P(vug_fluid), P(F64), P(I32), SIZE, P(vug_drain_options), P(P(vug_course)))),
    "vug_course_free": (None, (P(vug_course),)),
    "vug_course_get": (STATUS, (P(vug_course), P(vug_course_info))),
    "vug_course_event_count": (SIZE, (P(vug_course),)),
    "vug_course_event": (STATUS, (P(vug_course), SIZE, P(vug_event_info))),
    "vug_course_curve": (STATUS, (P(vug_context), P(vug_course), P(P(F64)), P(SIZE))),
    "vug_course_at_volume": (STATUS, (P(vug_context), P(vug_course), F64, P(P(vug_moment)))),
    "vug_course_at_time": (STATUS, (P(vug_context), P(vug_course), F64, P(P(vug_moment)))),
    "vug_moment_free": (None, (P(vug_moment),)),
    "vug_moment_get": (STATUS, (P(vug_moment), P(vug_moment_info))),
    "vug_moment_pocket": (STATUS, (P(vug_moment), SIZE, P(vug_pocket_info))),
    "vug_moment_pool": (STATUS, (P(vug_moment), SIZE, P(vug_pool_info))),
    "vug_moment_pool_volume": (STATUS, (P(vug_context), P(vug_moment), SIZE, F64, P(F64))),
    "vug_moment_pool_level": (STATUS, (P(vug_context), P(vug_moment), SIZE, F64, P(F64))),
    "vug_moment_section": (STATUS, (P(vug_context), P(vug_moment), P(F64), P(F64), P(P(F64)), P(SIZE))),
    "vug_moment_levels": (STATUS, (P(vug_context), P(vug_moment), P(F64), SIZE, P(F64))),
    "vug_moment_squeeze": (STATUS, (P(vug_context), P(vug_moment), P(vug_fluid), F64, F64, P(F64), SIZE, P(F64))),
    "vug_moment_surface": (STATUS, (P(vug_context), P(vug_moment), P(P(vug_mesh)))),
    "vug_moment_pocket_mesh": (STATUS, (P(vug_context), P(vug_moment), SIZE, P(P(vug_mesh)))),
    "vug_moment_pool_mesh": (STATUS, (P(vug_context), P(vug_moment), SIZE, P(P(vug_mesh)))),
    "vug_fill_turn": (STATUS, (P(vug_context), P(vug_cavities), P(vug_fluid), P(vug_moment), P(F64), P(I32), SIZE, P(vug_fill_options), P(P(vug_course)))),
    "vug_moment_make": (STATUS, (P(vug_context), P(vug_cavities), SIZE, P(F64), F64, F64, P(F64), SIZE, P(P(vug_moment)))),
    "vug_mesh_volume_below": (STATUS, (P(vug_context), P(vug_mesh), P(F64), F64, P(F64))),
    "vug_mesh_level": (STATUS, (P(vug_context), P(vug_mesh), P(F64), F64, P(F64))),
    "vug_cup_options_init": (STATUS, (P(vug_cup_options), SIZE)),
    "vug_cups_find": (STATUS, (P(vug_context), P(vug_cavities), P(vug_fluid), P(F64), P(I32), SIZE, P(vug_cup_options), P(P(vug_cups)))),
    "vug_cups_free": (None, (P(vug_cups),)),
    "vug_cups_count": (SIZE, (P(vug_cups),)),
    "vug_cups_get": (STATUS, (P(vug_cups), SIZE, P(vug_cup_info))),
    "vug_cups_layers": (P(F64), (P(vug_cups), P(SIZE))),
    # skin
    "vug_skin_options_init": (STATUS, (P(vug_skin_options), SIZE)),
    "vug_skin_make": (STATUS, (P(vug_context), P(vug_cavities), P(vug_skin_options), P(P(vug_skin)))),
    "vug_skin_free": (None, (P(vug_skin),)),
    "vug_skin_wet": (STATUS, (P(vug_context), P(vug_skin), P(vug_fluid), P(vug_course))),
    "vug_skin_get": (STATUS, (P(vug_context), P(vug_skin), P(vug_skin_info))),
    "vug_skin_triangles": (STATUS, (P(vug_context), P(vug_skin), SIZE, P(P(F64)), P(SIZE))),
    "vug_skin_spots": (STATUS, (P(vug_context), P(vug_skin), P(P(F64)), P(SIZE))),
    # look
    "vug_backlit_init": (STATUS, (P(vug_backlit), SIZE)),
    "vug_backlit_render": (STATUS, (P(vug_context), P(vug_mesh), P(vug_cavities), P(vug_moment), P(vug_backlit), U32, U32, P(U8), SIZE)),
    # plan
    "vug_plan_options_init": (STATUS, (P(vug_plan_options), SIZE)),
    "vug_plan_make": (STATUS, (P(vug_context), P(vug_cavities), P(vug_fluid), P(vug_fluid), P(I32), SIZE, P(vug_plan_options), P(P(vug_plan)))),
    "vug_plan_free": (None, (P(vug_plan),)),
    "vug_plan_count": (SIZE, (P(vug_plan),)),
    "vug_plan_get": (STATUS, (P(vug_plan), SIZE, P(vug_plan_info))),
    "vug_plan_step": (STATUS, (P(vug_plan), SIZE, I32, SIZE, P(vug_step_info))),
    "vug_plan_bore": (STATUS, (P(vug_plan), SIZE, SIZE, P(vug_plan_bore_info))),
    "vug_plan_cavities": (P(vug_cavities), (P(vug_plan), SIZE)),
    "vug_plan_caution": (I32, (P(vug_plan), SIZE, I32)),
    "vug_caution_text": (TEXT, (I32,)),
    "vug_plan_text": (STATUS, (P(vug_context), P(vug_plan), SIZE, TEXT, TEXT, TEXT, U32, P(TEXT))),
    "vug_plan_letter": (STATUS, (P(vug_context), P(vug_plan), SIZE, SIZE, TEXT, SIZE)),
    "vug_percent_words": (STATUS, (P(vug_context), F64, F64, TEXT, SIZE)),
    "vug_pose_words": (STATUS, (P(vug_context), P(F64), P(F64), TEXT, SIZE)),
    "vug_pose_parse": (STATUS, (P(vug_context), TEXT, P(F64))),
    "vug_sides_words": (STATUS, (P(vug_context), P(vug_cavities), TEXT, SIZE)),
}

CONSTANTS = {
    # base
    "VUG_VERSION_MAJOR": 1,
    "VUG_VERSION_MINOR": 0,
    "VUG_VERSION_PATCH": 0,
    "VUG_ERR_UNKNOWN": -1,
    "VUG_OK": 0,
    "VUG_ERR_ARGUMENT": 1,
    "VUG_ERR_MEMORY": 2,
    "VUG_ERR_CANCELLED": 3,
    "VUG_ERR_IO": 4,
    "VUG_ERR_FORMAT": 5,
    "VUG_ERR_UNSUPPORTED": 6,
    "VUG_ERR_MESH": 7,
    "VUG_ERR_LIMIT": 8,
    "VUG_ERR_DOMAIN": 9,
    "VUG_ERR_NOT_FOUND": 10,
    "VUG_ERR_CONVERGENCE": 11,
    "VUG_ERR_INTERNAL": 12,
    "VUG_STATUS_COUNT": 13,
    "VUG_MAX_NONE": -1,
    "VUG_MAX_TRIANGLES": 2147483647,
    "VUG_MAX_COORDINATE_MM": 1000000000,
    "VUG_MAX_COLUMNS_ACROSS": 16384,
    "VUG_MAX_OPENINGS": 65536,
    "VUG_MAX_THREADS": 256,
    "VUG_MAX_TURNS": 32,
    "VUG_PLAN_SAMPLES": 40,
    "VUG_MAX_BORES": 16,
    # flow
    "VUG_DRILLS_NONE": -1,
    "VUG_DRILLS_STOCK": 0,
    "VUG_DRILLS_TENTHS": 1,
    "VUG_DRILLS_HALVES": 2,
    "VUG_DRILLS_COUNT": 3,
    "VUG_AT_NONE": -1,
    "VUG_AT_OR_ABOVE": 0,
    "VUG_AT_OR_BELOW": 1,
    "VUG_FLUID_NONE": -1,
    "VUG_FLUID_WATER": 0,
    "VUG_FLUID_ISOPROPANOL": 1,
    "VUG_FLUID_RESIN": 2,
    "VUG_FLUID_CRAFT_ACRYLIC": 3,
    "VUG_FLUID_THINNED_ACRYLIC": 4,
    "VUG_FLUID_DYED_EPOXY": 5,
    "VUG_FLUID_PLASTER_SLIP": 6,
    "VUG_FLUID_COUNT": 7,
    "VUG_LEVEL_NONE": -1,
    "VUG_LOW": 0,
    "VUG_TYPICAL": 1,
    "VUG_HIGH": 2,
    "VUG_LEVEL_COUNT": 3,
    "VUG_HOLE_NONE": -1,
    "VUG_HOLE_INJECT": 0,
    "VUG_HOLE_NEEDLE": 1,
    "VUG_HOLE_AIR": 2,
    "VUG_HOLE_DRAIN": 3,
    "VUG_HOLE_EXCHANGE": 4,
    "VUG_HOLE_SUCTION": 5,
    "VUG_HOLE_CONDITION_COUNT": 6,
    "VUG_PROPERTY_NONE": -1,
    "VUG_PROPERTY_DENSITY": 0,
    "VUG_PROPERTY_TENSION": 1,
    "VUG_PROPERTY_ANGLE": 2,
    "VUG_PROPERTY_YIELD": 3,
    "VUG_PROPERTY_CONSISTENCY": 4,
    "VUG_PROPERTY_INDEX": 5,
    "VUG_PROPERTY_COUNT": 6,
    "VUG_SHELL_NONE": -1,
    "VUG_SHELL_SPHERE": 0,
    "VUG_SHELL_CYLINDER": 1,
    "VUG_SHELL_COUNT": 2,
    "VUG_CONTENT_NONE": -1,
    "VUG_CONTENT_WATER": 0,
    "VUG_CONTENT_PLAIN": 1,
    "VUG_CONTENT_COUNT": 2,
    # mesh
    "VUG_FORMAT_NONE": -1,
    "VUG_FORMAT_AUTO": 0,
    "VUG_FORMAT_STL": 1,
    "VUG_FORMAT_PLY": 2,
    "VUG_FORMAT_3MF": 3,
    "VUG_FORMAT_OBJ": 4,
    "VUG_FORMAT_OFF": 5,
    "VUG_FORMAT_COUNT": 6,
    # shape
    "VUG_BORE_NONE": -1,
    "VUG_BORE_CUT": 4,
    "VUG_BORE_ROW": 11,
    # pose
    "VUG_ROLE_NONE": -1,
    "VUG_ROLE_OPEN": 0,
    "VUG_ROLE_INLET": 1,
    "VUG_ROLE_VENT": 2,
    "VUG_ROLE_OUTLET": 3,
    "VUG_ROLE_SEALED": 4,
    # fill
    "VUG_EVENT_NONE": -1,
    "VUG_EVENT_BASIN": 0,
    "VUG_EVENT_SILL": 1,
    "VUG_EVENT_MERGE": 2,
    "VUG_EVENT_POCKET": 3,
    "VUG_EVENT_SPILL": 4,
    "VUG_EVENT_RIM": 5,
    "VUG_EVENT_FULL": 6,
    "VUG_EVENT_LEFT": 7,
    "VUG_EVENT_LIP": 8,
    "VUG_EVENT_EMPTY": 9,
    "VUG_EVENT_LEVEL": 10,
    "VUG_EVENT_SLOPE": 11,
    "VUG_EVENT_WAIT": 12,
    "VUG_END_NONE": -1,
    "VUG_END_FULL": 0,
    "VUG_END_CUT_OFF": 1,
    "VUG_END_SUPPLY": 2,
    "VUG_END_SPILL": 3,
    "VUG_END_BLOCKED": 4,
    "VUG_END_DRAINED": 5,
    "VUG_ENTRY_NONE": -1,
    "VUG_ENTRY_INJECTED": 0,
    "VUG_ENTRY_POURED": 1,
    # plan
    "VUG_PLAN_NONE": -1,
    "VUG_PLAN_FILL": 0,
    "VUG_PLAN_DRAIN": 1,
    "VUG_PLAN_COAT": 2,
    "VUG_CAUTION_NONE": -1,
    "VUG_CAUTION_RESIN": 0,
    "VUG_CAUTION_SOLVENT": 1,
    "VUG_CAUTION_UV": 2,
    "VUG_CAUTION_DUST": 3,
    "VUG_CAUTION_GLUE": 4,
    "VUG_CAUTION_SEALED": 5,
    "VUG_CAUTION_PRESSURE": 6,
    "VUG_CAUTION_LIMIT": 7,
    "VUG_CAUTION_HELD": 8,
    "VUG_CAUTION_EXCHANGE": 9,
    "VUG_CAUTION_TILT": 10,
    "VUG_CAUTION_THIN": 11,
    "VUG_CAUTION_SEARCH": 12,
    "VUG_CAUTION_BRISK": 13,
    "VUG_CAUTION_THROAT": 14,
    "VUG_CAUTION_CUT_OFF": 15,
    "VUG_CAUTION_FULL": 16,
    "VUG_CAUTION_COUNT": 17,
}

lib = declare(FUNCTIONS)
