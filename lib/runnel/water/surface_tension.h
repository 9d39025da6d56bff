#pragma once

namespace runnel::water {

/// Surface tension of water against air [N/m], 0-40 C; the range is not checked. Source: [iapws-r1-76].
double surface_tension_nm(double temperature_c);

}  // namespace runnel::water
